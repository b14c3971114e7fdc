Feature: What a meter showed, and when

  A light meter made for air shows too little under water, and lamps fade after
  it was read. I tell what I know of both, and see what became of my number.

  Background:
    Given my tank file is
      """
      name: metered
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      meters:
        - {id: old-head, immersion factor: 1.08}
      lamps:
        - {id: lamp, kind: tube, installed: 2025-11-02, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: {value: 200 PAR, how: old-head, on: 2026-10-28}}
        - {id: shelf, at: "30, 30, 30 cm", light: {value: 240 PAR, immersion factor: 1.25, on: 2026-10-28}}
      """

  Scenario: A meter whose factor I told
    When I ask "light ledge"
    Then I read "YOU READ 215 PAR"
    And I read "200 shown × 1.08 under water = 216 PAR"

  Scenario: A single reading with its factor
    When I ask "light shelf"
    Then I read "240 shown × 1.25 under water = 300 PAR"

  Scenario: A number I have corrected myself
    When I ask "light shelf"
    And I change "immersion factor: 1.25" into "immersion factor: corrected" in my tank file
    And I ask the same again
    Then I read "YOU READ 240 PAR"
    And I do not read "under water"

  Scenario: A factor I do not know
    When I ask "light shelf"
    And I change "immersion factor: 1.25" into "immersion factor: unknown" in my tank file
    And I ask the same again
    Then I read "YOU READ 240 PAR, 200 to 290"
    And I read "the factor of its meter under water is not known"

  Scenario: A factor that cannot be
    When I ask "light shelf"
    And I change "immersion factor: 1.25" into "immersion factor: 0.8" in my tank file
    And I ask the same again
    Then I read "'0.8' is no factor of a light meter under water"
    And I read "try: 1.25"

  Scenario: The whole tank told otherwise than one meter
    When I ask "light ledge"
    And I change "invented: yes" into "meter uncorrected: yes" in my tank file
    And I ask the same again
    Then I read "this holds only for readings of which no factor is told"
    And I read "YOU READ 215 PAR"

  Scenario: A reading of half a year ago under a tube
    When I ask "light ledge"
    And I change "how: old-head, on: 2026-10-28" into "how: old-head, on: 2026-05-10" in my tank file
    And I ask the same again
    Then I read "YOU READ 195 PAR"
    And I read "216 PAR then; since then 10 % less for lamps that fade"
    And I read "Lamp, 1.0 years old, is taken to send 20 % less than when new."

  Scenario: The same under a lamp of unknown age
    When I ask "light ledge"
    And I change "installed: 2025-11-02, at" into "at" in my tank file
    And I change "how: old-head, on: 2026-10-28" into "how: old-head, on: 2026-05-10" in my tank file
    And I ask the same again
    Then I read "YOU READ 215 PAR"
    And I read "216 PAR then; since then"
    And I read "less sure"
    And I do not read "lamps that fade"

  Scenario: A reading of this week says nothing of its age
    When I ask "light ledge"
    Then I do not read "since then"

  Scenario: A lamp of which I tell no kind
    When I ask "light ledge"
    And I change "kind: tube, installed" into "installed" in my tank file
    And I ask the same again
    Then I read "an LED fades less, a tube more: tell its kind"

  Scenario: An age that goes before the day the lamp was installed
    When I ask "light ledge"
    And I change "installed: 2025-11-02" into "installed: 2020-11-02, lamp age: 1 to 3 years" in my tank file
    And I ask the same again
    Then I read "1.0-3.0 years old"

  Scenario: A reading from before the lamp was new
    When I ask "light ledge"
    And I change "how: old-head, on: 2026-10-28" into "how: old-head, on: 2025-10-10" in my tank file
    And I ask the same again
    Then I read "left out"
