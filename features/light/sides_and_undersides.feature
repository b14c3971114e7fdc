Feature: The sides and the undersides of my rocks
  I tell the shapes of my rocks, and the advisor looks under them, too, and says which face it means.

  Background:
    Given my tank file is
      """
      name: roofs
      glass: {length: 90 cm, width: 60 cm, height: 50 cm, water: 46 cm}
      sand: fine
      started: 2024-01-01
      photoperiod: 9 hours
      lamps:
        - {id: lamp, at: "20, 30 cm", over water: 20 cm, size: 40 x 20 cm, photons: 250 umol/s}
      rocks:
        - {id: stone, shape: block, at: "60, 30 cm", size: 24 x 24 x 12 cm}
        - {id: roof, shape: shelf, at: "60, 30 cm", size: 24 x 32 x 4 cm, foot: 28 cm}
      spots:
        - {id: ceiling, at: "60, 30, 27 cm", faces: under}
        - {id: wall, at: "48, 30, 6 cm", faces: side}
      places every: 10 cm
      places on: undersides
      corals:
        - {id: sun-1, is: sun coral, size: 6 cm}
        - {id: torch-1, is: torch, size: 8 cm}
      """

  Scenario: A coral of caves is offered the underside of a rock
    When I ask where sun-1 should go
    Then I read "places of the grid were looked at"
    And I read "roof-underside-"

  Scenario: A coral that must look up is told that the underside does not suit it
    When I ask at level 2 why torch-1 may not stand at roof-underside-60-20-28
    Then I read "Faces"
    And I read "under, wanted up"
    And I read "on the underside itself"

  Scenario: What I call a ceiling is measured from the rock above it
    When I ask at level 2 why torch-1 may not stand at ceiling
    Then I read "shape of roof"

  Scenario: The light of a wall is told as a sensor that looks up reads it, and as the wall gets it
    When I ask "light wall"
    Then I read "on a sensor that looks up"
    And I read "tilted 90° to the left"

  Scenario: Below rock the light comes off the sand, and the rules go by that
    When I ask "light ceiling"
    Then I read "looks straight down"
    And I read "from the sand"
    And I read "the rules go by this" before "A DAY"
