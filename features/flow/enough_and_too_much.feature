Feature: Enough water movement, and not too much

  Background:
    Given a tank in good order

  Scenario: A torn-about place is refused for a fleshy coral
    Given these places
      | id    | light   | flow                                   | ground | gaps complete |
      | spout | 80 PAR  | {value: 30 cm/s, error: 4 cm/s}        | sand   | yes           |
      | bay   | 80 PAR  | {value: 4 cm/s, error: 1 cm/s}         | sand   | yes           |
    And these corals
      | id      | is         | size  | comes from |
      | brain-1 | open brain | 10 cm | 80 PAR     |
    When I ask where brain-1 should go
    Then bay comes before spout
    And a reason at spout is that flow is 30 cm/s and at most 10 cm/s is wanted

  Scenario: Flow never measured is asked for, with the way to measure it
    Given these places
      | id    | light   | ground | gaps complete |
      | ledge | 115 PAR | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 110 PAR    |
    When I ask where torch-1 should go
    Then I am asked for the flow of ledge
    And I read "crumb"

  Scenario: A crumb timed five times is a measurement
    Given these places
      | id    | light   | flow                                                       | ground | gaps complete |
      | ledge | 115 PAR | {distance: 20 cm, seconds: [2.0, 2.1, 1.9, 2.0, 2.0]}      | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 110 PAR    |
    When I ask where torch-1 should go
    Then the answer for ledge is YES
    And I read "crumb"

  Scenario: In the straight path of an outlet
    Given these places
      | id    | light   | flow    | ground | in jet | outlet distance | gaps complete |
      | spout | 80 PAR  | 5 cm/s  | sand   | yes    | 15 cm           | yes           |
    And these corals
      | id      | is         | size  | comes from |
      | brain-1 | open brain | 10 cm | 80 PAR     |
    When I ask where brain-1 should go
    Then the answer for spout is not YES
    And I read "outlet"
