Feature: Too bright, too dim, and just right
  A coral far outside its light burns or starves; I want to be told before I glue it.

  Background:
    Given a tank in good order

  Scenario: A place far too bright is refused, with both numbers
    Given these places
      | id      | light    | flow    | ground | gaps complete |
      | top     | 420 PAR  | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 110 PAR    |
    When I ask where torch-1 should go
    Then the answer for top is NO
    And a reason there is that light is 420 PAR and at most 250 PAR is wanted

  Scenario: A place in the middle of its light is a yes
    Given these places
      | id      | light    | flow    | ground | pattern | gaps complete |
      | terrace | 115 PAR  | 10 cm/s | rock   | random  | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 110 PAR    |
    When I ask where torch-1 should go
    Then the answer for terrace is YES
    And I am told to leave it without glue at first

  Scenario: A reading at the edge is too close to call, and says which way it leans
    Given these places
      | id      | light                            | flow    | ground | gaps complete |
      | ledge   | {value: 240 PAR, error: 25 PAR}  | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 200 PAR    |
    When I ask where torch-1 should go
    Then the answer for ledge is not YES
    And the answer for ledge is not NO

  Scenario: A place below its least light will do for tonight
    Given these places
      | id     | light   | flow   | ground | gaps complete |
      | cellar | 30 PAR  | 8 cm/s | rock   | yes           |
    And these corals
      | id       | is         | size | comes from |
      | stag-1   | staghorn   | 6 cm | 200 PAR    |
    When I ask where stag-1 should go
    Then cellar will do for tonight
    And the answer for cellar is NO
    And a reason there is that light is 30 PAR and 150 PAR or more is wanted
