Feature: A person's safety comes first and unasked

  Scenario: Zoanthids print their caution before anything else
    Given a tank in good order
    And these places
      | id    | light   | flow    | ground | gaps complete |
      | ledge | 115 PAR | 10 cm/s | rock   | yes           |
    And these corals
      | id    | is   | size | comes from |
      | zoa-1 | zoas | 4 cm | 110 PAR    |
    When I ask where zoa-1 should go
    Then the first thing after the name is a caution
    And I read "palytoxin"

  Scenario: The card of a stinging coral has its caution, too
    Given a tank in good order
    When I ask for the card of torch
    Then I read "CAUTION"
    And I read "gloves"

  Scenario: The caution cannot be switched off
    Given a tank in good order
    And these places
      | id    | light   | flow    | ground | gaps complete |
      | ledge | 115 PAR | 10 cm/s | rock   | yes           |
    And these corals
      | id    | is   | size | comes from |
      | zoa-1 | zoas | 4 cm | 110 PAR    |
    When I ask briefly where zoa-1 should go
    Then I read "CAUTION"
    And I read "palytoxin"
