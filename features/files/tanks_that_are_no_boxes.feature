Feature: A tank that is no box
  A cylinder, a bow front or an outline of my own is understood, and what cannot be reckoned there is said.

  Scenario: A place in the corner that a cylinder does not have
    Given my tank file is
      """
      name: round
      glass: {shape: cylinder, diameter: 60 cm, height: 50 cm}
      spots:
        - {id: ledge, at: "5, 5, 10 cm"}
      """
    When I ask for a check of my tank
    Then a problem is shown at line 4
    And I read "outside the glass, which is no box"

  Scenario: Round walls throw light back in a way nobody reckons
    Given my tank file is
      """
      name: round
      glass: {shape: cylinder, diameter: 60 cm, height: 50 cm, water: 45 cm}
      lamps:
        - {id: lamp, at: "30, 30 cm", over water: 20 cm, size: 20 x 20 cm, photons: 150 umol/s}
      spots:
        - {id: ledge, at: "20, 30, 10 cm"}
      """
    When I ask "light ledge"
    Then I read "what its walls throw back is estimated by a box around it"

  Scenario: The flat walls of a bow front are mirrors, and what its bow throws back is estimated
    Given my tank file is
      """
      name: bowed
      glass: {shape: bow front, length: 90 cm, width: 45 cm, bow: 10 cm, height: 50 cm, water: 45 cm}
      lamps:
        - {id: lamp, at: "45, 22 cm", over water: 20 cm, size: 20 x 20 cm, photons: 150 umol/s}
      spots:
        - {id: ledge, at: "80, 30, 5 cm"}
      """
    When I ask "light ledge"
    Then I read "light is followed over its left, right and back walls"
    And I read "of it comes over the glass walls"
    And I read "and the error is wider"

  Scenario: A basin of masonry with one window
    Given my tank file is
      """
      name: basin
      glass: {shape: cylinder, diameter: 150 cm, height: 70 cm, water: 60 cm, walls: {front: clean, rest: painted}}
      lamps:
        - {id: lamp, at: "75, 75 cm", over water: 20 cm, size: 20 x 20 cm, photons: 150 umol/s}
      spots:
        - {id: ledge, at: "75, 110, 10 cm"}
      """
    When I ask "light ledge"
    Then I read "and the error is wider"
    When I change "{front: clean, rest: painted}" into "painted" in my tank file
    And I ask "light ledge"
    Then I read "which is little: they are dull"

  Scenario: My pond is scanned, and its walls lean outward
    Given the file pond.obj in my tank folder is
      """
      v 0.2 0.0 0.2
      v 1.4 0.0 0.2
      v 1.4 0.0 0.8
      v 0.2 0.0 0.8
      v 0.0 0.5 0.0
      v 1.6 0.5 0.0
      v 1.6 0.5 1.0
      v 0.0 0.5 1.0
      f 1 2 3 4
      f 5 6 2 1
      f 6 7 3 2
      f 7 8 4 3
      f 8 5 1 4
      """
    And my tank file is
      """
      name: pond
      glass: {scan: pond.obj, up: y, length: 160 cm, water: 40 cm}
      spots:
        - {id: low, at: "5, 50, 5 cm"}
        - {id: high, at: "10, 50, 38 cm"}
      """
    When I ask for a check of my tank
    Then a problem is shown at line 4
    And I read "outside the glass, which is no box"
    And I do not read "38 cm is outside"

  Scenario: A scan with another height than I measured
    Given the file pond.obj in my tank folder is
      """
      v 0 0 0
      v 3 0 0
      v 3 2 0
      v 0 2 0
      v 0 0 1
      v 3 0 1
      v 3 2 1
      v 0 2 1
      f 4 3 2 1
      f 1 2 6 5
      f 2 3 7 6
      f 3 4 8 7
      f 4 1 5 8
      """
    And my tank file is
      """
      name: pond
      glass: {scan: pond.obj, length: 150 cm, height: 80 cm}
      spots: [ledge]
      """
    When I ask for a check of my tank
    Then a problem is shown at line 2
    And I read "the height is told as 80 cm, and the scan is smaller"
    And I read "try: height: 50 cm"
