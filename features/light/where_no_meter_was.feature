Feature: The light where no meter was held
  I have told where my lamps hang and read the meter at a few places. The light of
  all other places follows from that, with an error, and I am told what it rests on.

  Scenario: A place far too bright is refused though nobody read it
    Given my tank file is
      """
      name: lit
      invented: yes
      started: 2024-01-01
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: left-lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: top, at: "35, 30, 35 cm", ground: rock, flow: 10 cm/s, gaps complete: yes}
        - {id: ledge, at: "50, 20, 25 cm", light: {value: 450 PAR, on: 2026-10-28, by: instrument}}
      corals:
        - {id: torch-1, is: torch, size: 8 cm}
      """
    When I ask why torch-1 may not stand at top
    Then the answer for top is NO
    And I read "at most 250 PAR"
    And I read "reckoned: 1 lamp, 1 reading, the nearest 21 cm off"

  Scenario: The same place in the shade of a shelf is not refused for its light
    Given my tank file is
      """
      name: lit
      invented: yes
      started: 2024-01-01
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: left-lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      rocks:
        - {id: roof, shape: shelf, at: "35, 30 cm", size: 40 x 40 x 3 cm, foot: 40 cm}
      spots:
        - {id: below, at: "35, 30, 30 cm", rock: roof, ground: rock, flow: 10 cm/s, gaps complete: yes}
        - {id: ledge, at: "90, 20, 25 cm", light: {value: 130 PAR, on: 2026-10-28, by: instrument}}
      corals:
        - {id: torch-1, is: torch, size: 8 cm}
      """
    When I ask "light below --level 2"
    Then I read "roof keeps off"
    When I ask where torch-1 should go
    Then the answer for below is not NO

  Scenario: A reading of mine wins while the lamps agree with it
    Given my tank file is
      """
      name: lit
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: left-lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: {value: 450 PAR, on: 2026-10-28, by: instrument, how: meter}}
      """
    When I ask "light ledge"
    Then I read "YOU READ 450 PAR"
    And I read "agrees"
    And I do not read "does not agree"

  Scenario: A reading that nothing else agrees with is named, and answers cover both
    Given my tank file is
      """
      name: lit
      invented: yes
      started: 2024-01-01
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: left-lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: top, at: "35, 30, 35 cm", ground: rock, flow: 10 cm/s, gaps complete: yes, light: {value: 60 PAR, on: 2026-10-28, by: instrument}}
        - {id: ledge, at: "50, 20, 25 cm", light: {value: 450 PAR, on: 2026-10-28, by: instrument}}
        - {id: step, at: "20, 40, 25 cm", light: {value: 460 PAR, on: 2026-10-28, by: instrument}}
        - {id: stone, at: "40, 45, 20 cm", light: {value: 430 PAR, on: 2026-10-28, by: instrument}}
      corals:
        - {id: torch-1, is: torch, size: 8 cm}
      """
    When I ask "light top"
    Then I read "does not agree: read again"
    When I ask why torch-1 may stand at top
    Then the answer for top is not YES
    And I read "the rest leads to expect"

  Scenario: A lamp that is turned down is asked about before it is turned
    Given my tank file is
      """
      name: lit
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: left-lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: {value: 450 PAR, on: 2026-10-28, by: instrument}}
      """
    When I ask "light ledge --lamp left-lamp=50%"
    Then I read "CHANGED left-lamp=50%; as it is now"

  Scenario: A place told only in words has no reckoned light
    Given my tank file is
      """
      name: lit
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: left-lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s}
      spots:
        - {id: corner, place: "left, back, high"}
      """
    When I ask "light corner"
    Then I read "not known yet"
    And I read "to a hand's width"
