Feature: A seller's word for light
  One seller's "medium" is another's "low". A word stands for all their scales,
  and a coral sold by one begins in the lower third of it.

  Background:
    Given a tank in good order

  Scenario: Sold as medium, and the place is brighter than the lower third of it
    Given these places
      | id    | light   | flow    | ground | gaps complete |
      | ledge | 150 PAR | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from                  |
      | torch-1 | torch | 8 cm | {light: medium, by: seller} |
    When I ask in detail where torch-1 should go
    Then I read "the seller gave a word for the light of torch-1"
    And I read "Ask the seller how many PAR torch-1 stood in"

  Scenario: Sold as medium, and the place is in the lower third of it
    Given these places
      | id    | light  | flow    | ground | gaps complete |
      | ledge | 95 PAR | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from                  |
      | torch-1 | torch | 8 cm | {light: medium, by: seller} |
    When I ask in detail where torch-1 should go
    Then the answer for ledge is not NO
    And I do not read "the seller gave a word for the light of torch-1"

  Scenario: A number from the seller leaves nothing to ask
    Given these places
      | id    | light   | flow    | ground | gaps complete |
      | ledge | 150 PAR | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from                   |
      | torch-1 | torch | 8 cm | {light: 140 PAR, by: seller} |
    When I ask in detail where torch-1 should go
    Then I do not read "the seller gave a word for the light of torch-1"
