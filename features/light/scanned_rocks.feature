Feature: A scan of my rock
  A scan from a phone or a mesh editor stands for the rock; the program says what it made of it.

  Background:
    Given the file roof.obj in my tank folder is
      """
      v -0.15 0.00 -0.10
      v 0.15 0.00 -0.10
      v 0.15 0.00 0.10
      v -0.15 0.00 0.10
      v -0.15 0.04 -0.10
      v 0.15 0.04 -0.10
      v 0.15 0.04 0.10
      v -0.15 0.04 0.10
      f 1 2 3 4
      f 5 8 7 6
      f 1 5 6 2
      f 2 6 7 3
      f 3 7 8 4
      f 4 8 5 1
      """
    And my tank file is
      """
      name: scanned
      glass: {length: 90 cm, width: 60 cm, height: 50 cm, water: 46 cm}
      lamps:
        - {id: lamp, at: "45, 30 cm", over water: 20 cm, size: 40 x 20 cm, photons: 250 umol/s}
      rocks:
        - {id: roof, scan: roof.obj, up: y, at: "45, 30 cm", foot: 20 cm}
      spots:
        - {id: under, at: "45, 30, 5 cm"}
        - {id: on-top, at: "45, 30, 23 cm"}
      """

  Scenario: A scan in metres is not guessed at, and the size to write is told
    When I ask for a check of my tank
    Then a problem is shown at line 6
    And I read "looks to be in metres"
    And I read "try: size: 30 x 20 x 4 cm"
    And the program ends as one that could not use what I gave

  Scenario: With its size told the scan stands in the light
    When I ask for a check of my tank
    And I change "foot: 20 cm" into "foot: 20 cm, size: 30 x 20 x 4 cm" in my tank file
    And I ask "light under"
    Then I read "roof"
    When I ask "light on-top"
    Then I read "onto"

  Scenario: A file that is no scan is told as what it is
    Given the file roof.obj in my tank folder is
      """
      my shopping list
      """
    When I ask for a check of my tank
    Then a problem is shown at line 6
    And I read "roof.obj: it cannot be read as OBJ"
