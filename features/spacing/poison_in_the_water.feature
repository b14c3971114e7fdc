Feature: Soft corals that poison the water
  A leather up-flow of stony corals wears them down, however far the tape says.

  Background:
    Given a tank in good order

  Scenario: A leather stands up-flow of a staghorn
    Given these places
      | id    | light   | flow    | ground | gaps               | gaps complete |
      | ridge | 300 PAR | 18 cm/s | rock   | {leather-1: 35 cm} | yes           |
      | left  | 120 PAR | 12 cm/s | rock   |                    |               |
    And these corals
      | id        | is                | size  | spot  | placed     | down-flow         |
      | leather-1 | toadstool leather | 12 cm | left  | 2025-01-10 | [stag-1]          |
      | stag-1    | staghorn          | 10 cm | ridge | 2025-06-01 |                   |
    When I ask for an audit
    Then something is wrong between leather-1 and stag-1 now
    And I read "up-flow"
