Feature: Light told wrongly, and light hardly told
  Whatever I write of lamps and readings, I get an answer I can use or am told what to mend.

  Scenario: A lamp under water
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: -5 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm"}
      """
    When I ask "light ledge"
    Then I read "over water cannot be -5 cm: a lamp hangs above the water"

  Scenario: Water of unknown height
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: 120 x 60 x 60 cm
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm"}
      """
    When I ask "light ledge"
    Then I read "The water is taken to stand at the rim"

  Scenario: No reading at all
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm"}
      """
    When I ask "light ledge"
    Then I read "none: only the lamps as told"
    When I ask "light --fit"
    Then I read "none that can be compared: take two or more"

  Scenario: One reading
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: 400 PAR}
      """
    When I ask "light ledge"
    Then I read "1 reading; the nearest ledge 400 PAR, 0 cm off"
    When I ask "light --fit"
    Then I read "expected from all others"

  Scenario: All readings at one point
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: 400 PAR}
        - {id: too, at: "50, 20, 25 cm", light: 420 PAR}
        - {id: also, at: "50, 20, 25 cm", light: 380 PAR}
      """
    When I ask "light --fit"
    Then I read "each reading guessed from the others"
    And I do not read "ODD"

  Scenario: A reading inside a rock
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      rocks:
        - {id: block, shape: block, at: "50, 20 cm", size: 30 x 30 x 50 cm}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: 400 PAR}
      """
    When I ask "light ledge"
    Then I read "as told it lies inside block"
    And I read "The reading at ledge is left out: it would lie inside block"

  Scenario: Two readings of one day that contradict each other
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: [{value: 100 PAR, on: 2026-10-28}, {value: 400 PAR, on: 2026-10-28}]}
      """
    When I ask "light ledge"
    Then I read "both 100 and 400 PAR were read on one day: the error there covers both"

  Scenario: Less light than none
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: -20 PAR}
      """
    When I ask "light ledge"
    Then I read "light cannot be -20 PAR"

  Scenario: More light than the sun gives
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: 40000 PAR}
      """
    When I ask "light ledge"
    Then I read "light cannot be 40000 PAR"

  Scenario: No light under a lamp that shines
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: 0 PAR}
      """
    When I ask "light ledge"
    Then I read "does not agree: read again"
    And I read "no light at all was read"

  Scenario: Lux instead of PAR
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: 8000 lux}
      """
    When I ask "light ledge"
    Then I read "lux is what an eye sees"

  Scenario: Lux under a lamp whose colours are told
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: daylight}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: {value: 10 klux, on: 2026-10-28, by: instrument}}
      """
    When I ask "light ledge"
    Then I read "YOU READ 180 PAR"
    And I do not read "lux is what an eye sees"

  Scenario: Water that looks yellow
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      yellowed water: yes
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: {value: 450 PAR, on: 2026-10-28, by: instrument}}
      """
    When I ask "light --fit"
    Then I read "takes 23 % of the light on each metre"
    And I read "the water is told to look yellowed, and takes more light"
    When I ask "audit --open 1"
    Then I read "the water is told to be yellowed or cloudy"

  Scenario: A reading taken while the lamp was dimmed
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: {value: 200 PAR, output: 50 %, on: 2026-10-28}}
      """
    When I ask "light ledge"
    Then I read "YOU READ 400 PAR"

  Scenario: A place above the water
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 58 cm"}
      """
    When I ask "light ledge"
    Then I read "z is 58 cm, which is outside the glass"

  Scenario: All lamps told to be off
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue, output: 0 %}
      spots:
        - {id: ledge, at: "50, 20, 25 cm"}
        - {id: step, at: "60, 20, 25 cm", light: 400 PAR}
      """
    When I ask "light ledge"
    Then I read "ledge not known yet"
    And I read "as told all are off"

  Scenario: One lamp whose place nobody told
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
        - {id: other, photons: 350 umol/s}
      spots:
        - {id: ledge, at: "50, 20, 25 cm"}
        - {id: step, at: "60, 20, 25 cm", light: 400 PAR}
      """
    When I ask "light ledge"
    Then I read "where other hangs is not told, so the light is reckoned from readings alone"
    And I do not read "MODEL"

  Scenario: Readings that contradict each other widen every answer
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm"}
        - {id: one, at: "60, 10, 5 cm", light: 130 PAR}
        - {id: two, at: "60, 10, 5 cm", light: 20 PAR}
      """
    When I ask "light ledge"
    Then I read "The readings contradict the lamps as told, or each other"
    When I ask "light --fit"
    Then I read "ODD"

  Scenario: A lamp that hangs beside the tank
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "350, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue}
      spots:
        - {id: ledge, at: "50, 20, 25 cm"}
      """
    When I ask "light ledge"
    Then I read "lamp hangs beside the tank, no part of it over the water"
    And a problem is shown at line 5

  Scenario: A programme that goes on past midnight
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      lamps:
        - {id: lamp, at: "35, 30 cm", over water: 20 cm, size: 30 x 20 cm, photons: 350 umol/s, beam: 90 degrees, colour: blue, programme: {16: 100 %, 1:30: 100 %}}
      spots:
        - {id: ledge, at: "50, 20, 25 cm", light: 400 PAR}
      """
    When I ask "light ledge"
    Then I read "by the programme of each lamp"

  Scenario: A spot inside a rock, looked for before anything is asked
    Given my tank file is
      """
      name: odd
      invented: yes
      glass: {length: 120 cm, width: 60 cm, height: 60 cm, water: 55 cm}
      rocks:
        - {id: block, shape: block, at: "50, 20 cm", size: 30 x 30 x 50 cm}
      spots:
        - {id: ledge, at: "50, 20, 25 cm"}
      """
    When I ask for a check of my tank
    Then I read "ledge lies inside block as both are told"
    And I read "50, 20, 50 cm"
    And a problem is shown at line 7
