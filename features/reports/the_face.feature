Feature: An answer can be read on any screen

  Background:
    Given a tank in good order
    And these places
      | id     | light   | flow    | ground | gaps             | gaps complete |
      | ledge  | 115 PAR | 10 cm/s | rock   | {candy-1: 16 cm} | yes           |
      | corner | 120 PAR | 10 cm/s | rock   |                  |               |
    And these corals
      | id       | is               | size  | spot   | placed     | comes from |
      | torch-1  | torch            | 8 cm  |        |            | 110 PAR    |
      | candy-1  | candy cane       | 6 cm  | corner | 2026-01-10 |            |

  Scenario Outline: Nothing is wider than eighty columns, however deep I dig
    When I ask at level <level> why torch-1 may not stand at ledge
    Then no line is wider than 80 columns

    Examples:
      | level |
      | 0     |
      | 1     |
      | 2     |
      | 3     |
      | 4     |

  Scenario: I open one reason and see what it rests on
    When I open the first reason why torch-1 may not stand at ledge
    Then I read "gap"
    And I read "candy-1"
    And I read "card torch"

  Scenario: What a word of an answer means can be asked
    When I ask what undecided means
    Then I read "undecided"
    And the program ends as one that found nothing to change

  Scenario: A mistyped question is met with the nearest one
    When I ask "wehre torch-1"
    Then I read "where"
    And the program ends as one that could not use what I gave

  Scenario: A machine can read it
    When I ask where torch-1 should go
    Then the same answer can be had as data, with its edition

  Scenario: The same question gives the same answer
    When I ask where torch-1 should go
    And I ask the same again
    Then both answers are alike to the letter

  Scenario: Text from my files cannot play tricks with the screen
    Given these corals
      | id        | name                     | is         | size | spot   | placed     |
      | candy-2   | "[bold red]loud[/] one"  | candy cane | 5 cm | corner | 2026-01-10 |
    When I ask for an audit
    Then no colour codes are printed
