Feature: Handling a coral without harm to myself

  Background:
    Given a tank in good order
    And these corals
      | id      | is       | size |
      | zoa-1   | zoanthus | 4 cm |
      | torch-1 | torch    | 8 cm |

  Scenario: The whole sheet of a zoanthid
    When I ask how to handle zoa-1
    Then I read "Never boil it"
    And I read "palytoxin"
    And I read "SIGNS"
    And I read "GET HELP"
    And each line of the sheet names its source and how sure it is
    And I am told that labels, the electrical code and doctors come first
    And no line is wider than 80 columns

  Scenario: What must never be done is refused before anything else is printed
    When I ask how to handle zoa-1 to "boil the rock in a pot"
    Then the first thing I read is a refusal to boil it
    And I am told what to do instead
    And I am told what must be at hand first
    And the program ends as one that found something

  Scenario: Two things at once
    When I ask how to handle zoa-1 to "scrub it off and glue the plug"
    Then the first thing I read is a refusal to scrub it
    And I read "GLUING OR PUTTYING IT"

  Scenario: What may be done is told with what it needs
    When I ask how to handle torch-1 to "cutting its plug"
    Then nothing is refused
    And I read "CUTTING IT OR ITS PLUG"
    And I am told what must be at hand first
    And the program ends as one that found nothing to change

  Scenario: A word with a letter wrong is read, and I am told how
    When I ask how to handle zoa-1 to "boling"
    Then the first thing I read is a refusal to boil it
    And I read "'boling' was read as 'boil'"

  Scenario: Words nobody knows bring the whole sheet
    When I ask how to handle zoa-1 to "frobnicate it"
    Then I read "I do not know what 'frobnicate it' would do"
    And I read "Never boil it"
    And the program ends as one that found something

  Scenario: A coral nobody can name is handled as a zoanthid
    When I ask how to handle mystery lump to "steam it"
    Then the first thing I read is a refusal to steam it
    And I read "the stricter sheet counts"

  Scenario: Without a tank any name of a coral will do
    When I ask outside any tank how to handle button polyps to "microwave the plug"
    Then the first thing I read is a refusal to microwave it

  Scenario: My own file may forbid more, and never allow what is forbidden
    Given my house rules are
      """
      edition 1

      handling mine "corals in my house"
        about anything
        never glue
              "No gel in this house."
              source "my own nose" kind experience
        safe boil
              "Boiling is fine outdoors."
              source "a neighbour" kind guess
      """
    When I ask how to handle zoa-1 to "glue it, then boil it"
    Then the first thing I read is a refusal to boil it
    And I read "No gel in this house."
    And I read "your own file"
    And I do not read "fine outdoors"

  Scenario: A rule file with a mistake hides nothing
    Given my house rules are
      """
      edition 1

      house
        swich off everything
      """
    When I ask how to handle zoa-1 to "boil it"
    Then the first thing I read is a refusal to boil it
    And I read "advisor rules check"

  Scenario: The short caution says where the whole sheet is
    When I ask where a zoanthus from the shop should go
    Then I read "advisor handle zoanthus"
