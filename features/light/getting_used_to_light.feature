Feature: Getting used to new light
  Light shock is the commonest early loss; brighter light comes in steps.

  Background:
    Given a tank in good order

  Scenario: Twice the light it knows is a yes, but slowly
    Given these places
      | id    | light    | flow    | ground | gaps complete |
      | ledge | 150 PAR  | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 75 PAR     |
    When I ask where torch-1 should go
    Then the answer for ledge is YES, SLOWLY
    And I read "one step a week"

  Scenario: Nobody told what light it comes from
    Given these places
      | id    | light    | flow    | ground | gaps complete |
      | ledge | 110 PAR  | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size |
      | torch-1 | torch | 8 cm |
    When I ask where torch-1 should go
    Then I read "I reckon with"
    And I read "a guess"
