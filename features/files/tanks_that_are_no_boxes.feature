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
    Then I read "what its walls throw back is left out, and the error is wider"
