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

  Scenario: A name several corals bear lists them and says what counts
    When I ask for the card of hammer
    Then I read "branching hammer or wall hammer"
    And I read "the strictest counts, so a yes must suit both"

  Scenario: A coral nobody could name is asked for by its group
    When I ask for the card of some soft coral
    Then I read "may be any of 17 cards"
    And I read "a yes must suit all of them"

  Scenario: The card ends with what sources dispute and what to ask the seller
    When I ask for the card of candy cane
    Then I read "DISAGREE"
    And I read "80 to 160 PAR"
    And I read "150 to 250 PAR"
    And I read "How many PAR did it stand in, and for how long?"
