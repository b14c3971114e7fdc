Feature: What is wrong in my tank, and what will go wrong

  Background:
    Given a tank in good order

  Scenario: A galaxy coral within reach of its neighbour
    Given these corals
      | id       | is               | at            | size | placed     | light   | flow    |
      | galaxy-1 | galaxy coral     | 20, 20, 10 cm | 7 cm | 2026-03-01 | 120 PAR | 10 cm/s |
      | crust-1  | encrusting monti | 38, 20, 10 cm | 8 cm | 2026-03-01 | 140 PAR | 12 cm/s |
    And these distances by tape
      | between  | and     | gap   |
      | galaxy-1 | crust-1 | 11 cm |
    When I ask for an audit
    Then something is wrong between galaxy-1 and crust-1 now
    And the finding says 11 cm where 30 cm is wanted
    And the program ends as one that found something

  Scenario: An empty tank has nothing wrong with it
    When I ask for an audit
    Then nothing is wrong
    And the program ends as one that found nothing to change

  Scenario: I know about it and accept it
    Given these corals
      | id       | is               | at            | size | placed     | light   | flow    |
      | galaxy-1 | galaxy coral     | 20, 20, 10 cm | 7 cm | 2026-03-01 | 120 PAR | 10 cm/s |
      | crust-1  | encrusting monti | 38, 20, 10 cm | 8 cm | 2026-03-01 | 140 PAR | 12 cm/s |
    And these distances by tape
      | between  | and     | gap   |
      | galaxy-1 | crust-1 | 11 cm |
    And I accepted what is wrong between galaxy-1 and crust-1 until 2027-03-01 because "glass plate between them"
    When I ask for an audit
    Then what is wrong between galaxy-1 and crust-1 is listed as accepted
    And I read "No animal is being harmed now"

  Scenario: A danger is never accepted for good
    Given these corals
      | id       | is               | at            | size | placed     | light   | flow    |
      | galaxy-1 | galaxy coral     | 20, 20, 10 cm | 7 cm | 2026-03-01 | 120 PAR | 10 cm/s |
      | crust-1  | encrusting monti | 38, 20, 10 cm | 8 cm | 2026-03-01 | 140 PAR | 12 cm/s |
    And these distances by tape
      | between  | and     | gap   |
      | galaxy-1 | crust-1 | 11 cm |
    And I accept what is wrong between galaxy-1 and crust-1 because "glass plate between them"
    When I ask for an audit
    Then something is wrong between galaxy-1 and crust-1 now
    And I read "an accepted danger must say"

  Scenario: An acceptance ends when I said it would
    Given these corals
      | id       | is               | at            | size | placed     | light   | flow    |
      | galaxy-1 | galaxy coral     | 20, 20, 10 cm | 7 cm | 2026-03-01 | 120 PAR | 10 cm/s |
      | crust-1  | encrusting monti | 38, 20, 10 cm | 8 cm | 2026-03-01 | 140 PAR | 12 cm/s |
    And these distances by tape
      | between  | and     | gap   |
      | galaxy-1 | crust-1 | 11 cm |
    And I accepted what is wrong between galaxy-1 and crust-1 until 2026-10-01 because "moving them in September"
    When I ask for an audit
    Then something is wrong between galaxy-1 and crust-1 now

  Scenario: A round of several tanks
    Given these corals
      | id       | is               | at            | size | placed     | light   | flow    |
      | galaxy-1 | galaxy coral     | 20, 20, 10 cm | 7 cm | 2026-03-01 | 120 PAR | 10 cm/s |
      | crust-1  | encrusting monti | 38, 20, 10 cm | 8 cm | 2026-03-01 | 140 PAR | 12 cm/s |
    When I ask for an audit of this tank and a sound one
    Then I read "scenario tank"
    And I read "sound tank"
    And the program ends as one that found something

  Scenario: An animal nobody knows is not passed over in silence
    Given these places
      | id    | light   | flow    | ground | gaps complete |
      | ledge | 115 PAR | 10 cm/s | rock   | yes           |
    And these corals
      | id        | is                  | size | spot  | placed     |
      | mystery-1 | purple quizzle      | 5 cm | ledge | 2026-03-01 |
    When I ask for an audit
    Then I read "mystery-1"
    And I read "no card"
