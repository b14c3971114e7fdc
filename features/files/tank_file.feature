Feature: My files are mine
  A mistake in them is shown where it stands, all of them at once, and nothing is damaged.

  Scenario: A broken tank file shows every mistake
    Given my tank file is
      """
      name: broken
      glass: 60 x 40 x 40 cm
      spots:
        - {id: ledge, light: 115 cm, flow: 10 cm/s, ground: rock}
        - {id: shelf, lihgt: 120 PAR}
      corals:
        - {id: torch-1, is: torch, spot: nowhere, size: 8 cm}
      """
    When I ask for a check of my tank
    Then a problem is shown at line 4
    And a problem is shown at line 5
    And a problem is shown at line 7
    And I read "light"
    And I read "nowhere"
    And the program ends as one that could not use what I gave

  Scenario: A decimal comma is shown with its mend
    Given my tank file is
      """
      name: comma
      glass: 60 x 40 x 40 cm
      spots:
        - {id: ledge, light: "117,5 PAR", ground: rock}
      """
    When I ask for a check of my tank
    Then a problem is shown at line 4
    And I read "117.5 PAR"

  Scenario: A number that is hardly possible is taken, and told
    Given my tank file is
      """
      name: lux
      glass: 120 x 60 x 60 cm
      spots:
        - {id: ledge, light: 2500 PAR, ground: rock}
        - {id: cave, light: 0 PAR, ground: rock}
        - {id: shelf, light: 120 PAR}
      corals:
        - {id: torch-1, is: torch, spot: ledge, size: 95 cm}
      """
    When I ask for a check of my tank
    Then a problem is shown at line 4
    And a problem is shown at line 8
    And I read "does the meter show lux?"
    And I read "and so is that of cave"
    And the program ends as one that found something
    When I ask why torch-1 may stand at ledge
    Then I read "hardly possible"

  Scenario: A sound tank file is said to be sound
    Given a tank in good order
    When I ask for a check of my tank
    Then the program ends as one that found nothing to change

  Scenario: Making a tank without an editor
    When I make a new tank called hall from this pasted list
      """
      torch, 8 cm, 110 PAR
      candy cane, 5 cm
      """
    Then I have a tank folder hall
    And a check of that folder finds no fault
    And its tank file names torch

  Scenario: Adding a coral leaves my comments alone
    Given my tank file is
      """
      # my own remark
      name: kept
      glass: 60 x 40 x 40 cm
      spots:
        - {id: ledge, light: 115 PAR, ground: rock}   # the good one
      corals:
        - {id: torch-1, is: torch, size: 8 cm}
      """
    When I add a hammer called hammer-1 of 9 cm
    Then my tank file still says "# my own remark"
    And my tank file still says "# the good one"
    And my tank file now says "hammer-1"
    And the journal has one more line

  Scenario: Moving a coral is written down first and then done
    Given a tank in good order
    And these places
      | id    | light   | ground |
      | ledge | 115 PAR | rock   |
      | shelf | 120 PAR | rock   |
    And these corals
      | id      | is    | size | spot  | placed     |
      | torch-1 | torch | 8 cm | ledge | 2026-10-01 |
    When I move torch-1 to shelf
    Then the journal tells of torch-1 moved to shelf
    And a check of my tank finds no fault
    And torch-1 stands at shelf

  Scenario: A reading given by a command counts at once
    Given a tank in good order
    And these places
      | id    | light   | flow    | ground | gaps complete |
      | ledge | unknown | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 110 PAR    |
    When I tell that the light of ledge is 115 PAR
    And I ask where torch-1 should go
    Then the answer for ledge is YES

  Scenario: Nothing is done to a file that has a mistake in it
    Given my tank file is
      """
      name: broken
      glass: 60 x 40 x 40 cm
      spots:
        - {id: ledge, light: 115 cm, ground: rock}
      """
    When I add a hammer called hammer-1 of 9 cm
    Then the program ends as one that could not use what I gave
    And my tank file is as it was
    And there is no journal

  Scenario: Outside any tank I am told how to start
    When I ask for an audit in an empty folder
    Then I read "tank new"
    And the program ends as one that could not use what I gave
