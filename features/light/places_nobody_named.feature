Feature: Places I never named
  I tell the shapes of my rocks, and the advisor looks at places all over them.

  Background:
    Given my tank file is
      """
      name: grid
      glass: {length: 90 cm, width: 60 cm, height: 50 cm, water: 46 cm}
      sand: fine
      pump guards: yes
      carbon: yes
      water:
        - {on: 2026-10-31, temperature: 25.5 °C, salinity: 35 ppt, alkalinity: 8.4 dKH, calcium: 425 mg/L,
           magnesium: 1330 mg/L, nitrate: 6 mg/L, phosphate: 0.05 mg/L, ammonia: 0 mg/L}
      lamps:
        - {id: lamp, at: "45, 30 cm", over water: 20 cm, size: 40 x 20 cm, photons: 250 umol/s}
      rocks:
        - {id: stone, shape: block, at: "30, 30 cm", size: 32 x 32 x 12 cm}
        - {id: roof, shape: shelf, at: "30, 30 cm", size: 20 x 20 x 4 cm, foot: 26 cm}
      spots:
        - {id: mine, at: "20, 20, 12 cm", flow: 10 cm/s}
      places every: 10 cm
      corals:
        - {id: torch-1, is: torch, size: 8 cm, comes from: 110 PAR}
      """

  Scenario: The best few are offered, by names that say where they are
    When I ask where torch-1 should go
    Then I read "places of the grid were looked at"
    And I read "stone-20-20-12"
    And I read "mine"

  Scenario: How a place lies is read off the rock where I say nothing
    When I ask at level 2 why torch-1 may not stand at stone-30-30-12
    Then I read "headroom"
    And I read "14 ±1 cm"
    And I read "shape of stone"

  Scenario: On a place of the grid a coral can be put like on any other
    When I move torch-1 to stone-20-20-12
    And I ask why torch-1 may stand at stone-20-20-12
    Then I read "torch-1 at stone-20-20-12"

  Scenario: Too many places are refused, with a distance that will do
    When I ask for a check of my tank
    And I change "places every: 10 cm" into "places every: 2 cm" in my tank file
    And I ask the same again
    Then I read "more than the 400 I judge"
    And I read "places every: "

  Scenario: Below my rocks nothing is looked at unless I ask for it
    When I ask where torch-1 should go
    Then I do not read "underside"
    And I do not read "facing"
