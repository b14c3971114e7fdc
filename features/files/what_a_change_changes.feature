Feature: Seeing what a change changes, before it counts
  Two sets of rules are held side by side: first what is written otherwise, then every answer that is
  no longer the same, what matters most to me first, each with the edit that brings it about.

  Background:
    Given a tank in good order
    And these places
      | id    | light                           | flow    | ground | gaps complete |
      | ledge | {value: 310 PAR, error: 10 PAR} | 10 cm/s | rock   | yes           |
      | shelf | {value: 60 PAR, error: 5 PAR}   | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 70 PAR     |

  Scenario: I change a number and see at once what that changes
    Given my house rules are
      """
      edition 1

      house
        change torch light max from 250 PAR to 340 PAR because "mine stand in 320"
      """
    When I ask "rules diff tank/house.rules"
    Then I read "card torch light-max: 250 PAR -> 340 PAR"
    And I read "NOW ALLOWED: 1 place"
    And I read "torch-1 at ledge"
    And I read "by card torch light-max"
    And no line is wider than 80 columns
    And the program ends as one that found something

  Scenario: Two changes that only together turn a place down
    Given my house rules are
      """
      edition 1

      house
        change torch light min from 50 PAR to 80 PAR because "it starved below"
        level enough-light from warning to danger because "it starved below"
      """
    When I ask "rules diff tank/house.rules"
    Then I read "NOW REFUSED"
    And I read "torch-1 at shelf"
    And I read "only together"
    And the program ends as one that found something

  Scenario: A line that no longer fits what ships is left out, and I am told
    Given my house rules are
      """
      edition 1

      house
        change torch light max from 199 PAR to 400 PAR because "an old card said 199"
      """
    When I ask "rules diff tank/house.rules"
    Then I read "Both say the same."
    And I read "this line is left out"

  Scenario: Nothing differs from itself
    When I ask "rules diff shipped shipped"
    Then I read "Both say the same."
    And the program ends as one that found nothing to change
