Feature: What a coral needs, on a note card

  Background:
    Given a tank in good order

  Scenario: The card says what it wants and how sure that is
    When I ask for the card of torch
    Then I read "80"
    And I read "150 PAR"
    And I read "cm/s"
    And I read "keepers' word"

  Scenario: A trade name, a former name and a binomial lead to one card
    When I ask for the card of Euphyllia glabrescens
    Then the card is the one of torch

  Scenario: A name nobody knows is answered with the nearest ones
    When I ask for the card of torhc
    Then I am told that torhc is not known
    And I read "torch"
    And the program ends as one that could not use what I gave
