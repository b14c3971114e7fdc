Feature: Where should this go
  The best place first, and honest words for the rest.

  Background:
    Given a tank in good order

  Scenario: A good place comes before a poor one, and a refused one last
    Given these places
      | id      | light   | flow    | ground | pattern | gaps complete |
      | burning | 480 PAR | 12 cm/s | rock   | random  | yes           |
      | dim     | 62 PAR  | 10 cm/s | rock   | random  | yes           |
      | good    | 115 PAR | 10 cm/s | rock   | random  | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 110 PAR    |
    When I ask where torch-1 should go
    Then the places come in this order
      | good    |
      | dim     |
      | burning |

  Scenario: Should I buy it
    Given these places
      | id    | light   | flow    | ground | gaps complete |
      | ledge | 115 PAR | 10 cm/s | rock   | yes           |
    When I ask where a galaxy coral from the shop should go
    Then I read "not in this tank yet"
    And the answer for ledge is not NO

  Scenario: Why there
    Given these places
      | id    | light   | flow    | ground | gaps complete |
      | ledge | 115 PAR | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 110 PAR    |
    When I ask why torch-1 may stand at ledge
    Then I read "115"
    And I read "80-150 PAR"

  Scenario: Why not here, and what would make it right
    Given these places
      | id     | light   | flow    | ground | gaps             | gaps complete |
      | ledge  | 115 PAR | 10 cm/s | rock   | {candy-1: 16 cm} | yes           |
      | corner | 120 PAR | 10 cm/s | rock   |                  |               |
    And these corals
      | id       | is               | size  | spot   | placed     | comes from |
      | torch-1  | torch            | 8 cm  |        |            | 110 PAR    |
      | candy-1  | candy cane       | 6 cm  | corner | 2026-01-10 |            |
    When I ask why torch-1 may not stand at ledge
    Then a reason there is that the gap to candy-1 is about 12 cm and 25 cm or more is wanted
    And I am offered a change that would make it right

  Scenario: Every deciding reason is told, not only the first
    Given these places
      | id     | light   | flow                            | ground | gaps             | gaps complete |
      | ledge  | 480 PAR | 10 cm/s                         | rock   | {candy-1: 16 cm} | yes           |
      | corner | 120 PAR | 10 cm/s                         | rock   |                  |               |
    And these corals
      | id       | is               | size  | spot   | placed     | comes from |
      | torch-1  | torch            | 8 cm  |        |            | 110 PAR    |
      | candy-1  | candy cane       | 6 cm  | corner | 2026-01-10 |            |
    When I ask why torch-1 may not stand at ledge
    Then a reason there is that light is 480 PAR and at most 250 PAR is wanted
    And a reason there is that the gap to candy-1 is about 12 cm and 25 cm or more is wanted

  Scenario: The water is out of order, and that comes first
    Given the water was tested as follows
      | on         | temperature | salinity | alkalinity |
      | 2026-10-31 | 29.5 °C     | 35 ppt   | 8.2 dKH    |
    And these places
      | id    | light   | flow    | ground | gaps complete |
      | ledge | 115 PAR | 10 cm/s | rock   | yes           |
    And these corals
      | id      | is    | size | comes from |
      | torch-1 | torch | 8 cm | 110 PAR    |
    When I ask where torch-1 should go
    Then I read "FIX FIRST"
    And I read "FIX FIRST" before "PUT IT"

  Scenario: What nobody wedges rests in the dark, too
    Given my tank file is
      """
      name: sand
      started: 2020-01-01
      glass: 100 x 50 x 50 cm
      spots:
        - {id: sand, light: 100 PAR, flow: 7 cm/s, ground: sand, faces: up, shelter: open}
      corals:
        - {id: tube-1, is: tube anemone, size: 12 cm}
      """
    When I ask where tube-1 should go
    Then I read "Leave the lights off tonight."
    And I do not read "Wedge tube-1"
