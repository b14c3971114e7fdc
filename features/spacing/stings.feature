Feature: Out of reach of each other
  Stings work at night and unseen; what counts is who can reach whom, and who can hurt whom.

  Background:
    Given a tank in good order

  Scenario: A torch and a place with no distance told
    Given these places
      | id     | light   | flow    | ground |
      | ledge  | 115 PAR | 10 cm/s | rock   |
      | corner | 120 PAR | 10 cm/s | rock   |
    And these corals
      | id       | is               | size  | spot   | placed     |
      | torch-1  | torch            | 8 cm  |        |            |
      | candy-1  | candy cane       | 6 cm  | corner | 2026-01-10 |
    When I ask where torch-1 should go
    Then the answer for ledge is NOT KNOWN YET
    And I am asked for the gap between ledge and candy-1
    And I read "tape"

  Scenario: The newcomer harms a neighbour that cannot harm it
    Given these places
      | id     | light   | flow    | ground | gaps             | gaps complete |
      | ledge  | 115 PAR | 10 cm/s | rock   | {candy-1: 16 cm} | yes           |
      | corner | 120 PAR | 10 cm/s | rock   |                  |               |
    And these corals
      | id       | is               | size  | spot   | placed     | comes from |
      | torch-1  | torch            | 8 cm  |        |            | 110 PAR    |
      | candy-1  | candy cane       | 6 cm  | corner | 2026-01-10 |            |
    When I ask where torch-1 should go
    Then the answer for ledge is NO
    And a reason there is that the gap to candy-1 is about 12 cm and 25 cm or more is wanted

  Scenario: Far enough from everything
    Given these places
      | id     | light   | flow    | ground | gaps             | gaps complete |
      | ledge  | 115 PAR | 10 cm/s | rock   | {candy-1: 48 cm} | yes           |
      | corner | 120 PAR | 10 cm/s | rock   |                  |               |
    And these corals
      | id       | is               | size  | spot   | placed     | comes from |
      | torch-1  | torch            | 8 cm  |        |            | 110 PAR    |
      | candy-1  | candy cane       | 6 cm  | corner | 2026-01-10 |            |
    When I ask where torch-1 should go
    Then the answer for ledge is YES

  Scenario: Hammer and frogspawn may touch
    Given these places
      | id     | light   | flow    | ground | gaps             | gaps complete |
      | ledge  | 115 PAR | 10 cm/s | rock   | {hammer-1: 9 cm} | yes           |
      | corner | 120 PAR | 10 cm/s | rock   |                  |               |
    And these corals
      | id          | is               | size  | spot   | placed     | comes from |
      | frogspawn-1 | frogspawn        | 8 cm  |        |            | 110 PAR    |
      | hammer-1    | branching hammer | 8 cm  | corner | 2026-01-10 |            |
    When I ask where frogspawn-1 should go
    Then the answer for ledge is not NO

  Scenario: A wall between them excuses the distance
    Given these places
      | id     | light   | flow    | ground | gaps             | gaps complete | divider   |
      | ledge  | 115 PAR | 10 cm/s | rock   | {candy-1: 16 cm} | yes           | [candy-1] |
      | corner | 120 PAR | 10 cm/s | rock   |                  |               |           |
    And these corals
      | id       | is               | size  | spot   | placed     | comes from |
      | torch-1  | torch            | 8 cm  |        |            | 110 PAR    |
      | candy-1  | candy cane       | 6 cm  | corner | 2026-01-10 |            |
    When I ask where torch-1 should go
    Then the answer for ledge is not NO

  Scenario: Two corals at one place
    Given these places
      | id     | light   | flow    | ground |
      | ledge  | 115 PAR | 10 cm/s | rock   |
    And these corals
      | id       | is               | size  | spot   | placed     | comes from |
      | torch-1  | torch            | 8 cm  |        |            | 110 PAR    |
      | candy-1  | candy cane       | 6 cm  | ledge  | 2026-01-10 |            |
    When I ask where torch-1 should go
    Then ledge is not offered
    When I ask why torch-1 may not stand at ledge
    Then the answer for ledge is not YES
    And I read "taken already"

  Scenario: What I was told at the tape wins over where things stand on the plan
    Given these places
      | id     | at           | light   | flow    | ground | gaps             |
      | ledge  | 20, 20, 20 cm| 115 PAR | 10 cm/s | rock   | {candy-1: 60 cm} |
      | corner | 30, 20, 20 cm| 120 PAR | 10 cm/s | rock   |                  |
    And these corals
      | id       | is               | size  | spot   | placed     | comes from |
      | torch-1  | torch            | 8 cm  |        |            | 110 PAR    |
      | candy-1  | candy cane       | 6 cm  | corner | 2026-01-10 |            |
    When I ask where torch-1 should go
    Then the answer for ledge is YES
