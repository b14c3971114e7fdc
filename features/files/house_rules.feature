Feature: My own house rules
  I may argue with every number, in a file, with a reason, and each answer then says so.

  Background:
    Given a tank in good order
    And these places
      | id    | light                            | flow    | ground | gaps complete |
      | ledge | {value: 310 PAR, error: 10 PAR}  | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 280 PAR    |

  Scenario: My torches stand more light than the card says
    Given my house rules are
      """
      edition 1

      house
        change torch light max from 250 PAR to 400 PAR
          because "mine have stood in 320 for two years"
      """
    When I ask where torch-1 should go
    Then the answer for ledge is not NO

  Scenario: An answer that rests on my number says so
    Given my house rules are
      """
      edition 1

      house
        change torch light max from 250 PAR to 400 PAR
          because "mine have stood in 320 for two years"
      """
    When I ask why torch-1 may stand at ledge
    Then I read "your house file"
    When I ask at level 2 why torch-1 may not stand at ledge
    Then I read "mine have stood in 320 for two years"

  Scenario: Without my house rule it is refused
    When I ask where torch-1 should go
    Then the answer for ledge is NO

  Scenario: The shipped number is no longer the one I changed
    Given my house rules are
      """
      edition 1

      house
        change torch light max from 199 PAR to 400 PAR
          because "an old card said 199"
      """
    When I ask where torch-1 should go
    Then I read "199 PAR"
    And I read "250 PAR"

  Scenario: The rules that ship are sound
    When I ask for a check of the rules
    Then the program ends as one that found nothing to change

  Scenario: The examples in the rule files come out as they say
    When I ask for a test of the rules
    Then the program ends as one that found nothing to change

  Scenario: A mistyped word in a house rule is shown with its mend
    Given my house rules are
      """
      edition 1

      rule my-own
        for      coral c
        expct    light(c.spot) >= 50 PAR
        level    warning
        because  "{c} stands in {light(c.spot)}"
        matters  "it starves"
        remedy   "move {c} up"
        source   "me" kind guess
      """
    When I ask where torch-1 should go
    Then a problem is shown at line 5
    And I read "expect"
    And the program ends as one that could not use what I gave
