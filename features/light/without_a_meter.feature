Feature: No meter in the house
  The word "medium" and a coral that does well must already give an answer.

  Background:
    Given a tank in good order

  Scenario: A word stands for a wide range and is shown as one
    Given these places
      | id       | light  | flow  | ground | gaps complete |
      | mid-left | medium | sways | rock   | yes           |
    And these corals
      | id      | is         | size |
      | candy-1 | candy cane | 5 cm |
    When I ask where candy-1 should go
    Then the answer for mid-left is not NO
    And I read "your word 'medium'"

  Scenario: No light was ever measured, so no place is promised, but there is one for tonight
    Given these places
      | id    | light   | flow    | ground | gaps complete |
      | shelf | unknown | unknown | rock   | yes           |
    And these corals
      | id      | is         | size |
      | candy-1 | candy cane | 5 cm |
    When I ask where candy-1 should go
    Then the answer for shelf is NOT KNOWN YET
    And I am asked for the light of shelf
    And shelf will do for tonight

  Scenario: A coral that has done well for months vouches for its place
    Given these places
      | id    | light   | flow    | ground | holds | extent |
      | shelf | unknown | unknown | rock   | 2     | 20 cm  |
    And these corals
      | id      | is         | size | spot  | placed     | doing                 |
      | zoa-3   | zoas       | 5 cm | shelf | 2026-01-10 | well since 2026-03-01 |
      | candy-1 | candy cane | 5 cm |       |            |                       |
    When I ask in detail where candy-1 should go
    Then I read "zoa-3"
    And the light of shelf is taken to be between 40 PAR and 350 PAR

  Scenario: An old reading is not used as if it were new
    Given these places
      | id    | light                            | flow    | ground | gaps complete |
      | shelf | {value: 110 PAR, on: 2025-12-01} | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is         | size |
      | candy-1 | candy cane | 5 cm |
    When I ask where candy-1 should go
    Then the answer for shelf is not YES
    And I am asked for the light of shelf
