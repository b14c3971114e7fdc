Feature: Fine for now
  Everything grows; an answer may be a yes until a month that is named.

  Background:
    Given a tank in good order

  Scenario: A place that is fine until a stated month
    Given these places
      | id     | light   | flow    | ground | gaps             | gaps complete |
      | ledge  | 115 PAR | 10 cm/s | rock   | {zoa-1: 34.5 cm} | yes           |
      | corner | 120 PAR | 10 cm/s | rock   |                  |               |
    And these corals
      | id       | is    | size  | spot   | placed     | comes from |
      | torch-1  | torch | 8 cm  |        |            | 110 PAR    |
      | zoa-1    | zoas  | 6 cm  | corner | 2026-01-10 |            |
    When I ask where torch-1 should go
    Then the answer for ledge is YES, UNTIL
    And I am told of trouble to come between torch-1 and zoa-1, with a date

  Scenario: A place with room to grow into has no date
    Given these places
      | id     | light   | flow    | ground | gaps             | gaps complete |
      | ledge  | 115 PAR | 10 cm/s | rock   | {candy-1: 40 cm} | yes           |
      | corner | 120 PAR | 10 cm/s | rock   |                  |               |
    And these corals
      | id       | is         | size  | spot   | placed     | comes from |
      | torch-1  | torch      | 8 cm  |        |            | 110 PAR    |
      | candy-1  | candy cane | 6 cm  | corner | 2026-01-10 |            |
    When I ask where torch-1 should go
    Then the answer for ledge is YES
    And I am told of no trouble to come

  Scenario: A mat without a moat
    Given these places
      | id     | light   | flow    | ground | islet | moat | gaps complete |
      | bridge | 120 PAR | 12 cm/s | rock   | no    | 1 cm | yes           |
    And these corals
      | id    | is                | size | spot   | placed     |
      | mat-1 | green star polyps | 8 cm | bridge | 2025-06-01 |
    When I ask for an audit
    Then something is wrong with mat-1
    And I read "bare ground"

  Scenario: A coral of the sand on a ledge of rock
    Given these places
      | id   | light   | flow   | ground | ledge | gaps complete |
      | step | 110 PAR | 6 cm/s | rock   | yes   | yes           |
    And these corals
      | id     | is         | size | spot | placed     | fixing |
      | brain-1| open brain | 9 cm | step | 2026-08-01 | loose  |
    When I ask for an audit
    Then something is wrong with brain-1 now
    And I read "sand"
