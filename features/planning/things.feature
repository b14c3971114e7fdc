Feature: Lamps, pumps, fish and rocks are part of the tank

  Scenario: A fish that nips is told beside what it nips at
    Given my tank file is
      """
      name: mine
      started: 2023-01-01
      glass: 100 x 50 x 50 cm
      pump guards: yes
      water: {on: 2026-10-31, temperature: 25.4 °C, salinity: 35 ppt, alkalinity: 8.4 dKH, calcium: 425 mg/L, magnesium: 1330 mg/L, nitrate: 8 mg/L, phosphate: 0.06 mg/L, ammonia: 0 mg/L}
      spots: [{id: ledge, light: 120 PAR, flow: 10 cm/s, ground: rock, faces: up, gaps: none}]
      corals: [{id: brain-1, is: open brain, spot: ledge, size: 8 cm, placed: 2026-01-10}]
      fish: [{id: angel-1, kind: coral beauty angelfish, nips: yes}]
      """
    When I ask for an audit
    Then I read "angel-1 nips"
    And I read "brain-1 is of a kind that is nipped at"

  Scenario: An anemone goes in, and one pump has no guard
    Given my tank file is
      """
      name: mine
      started: 2023-01-01
      glass: 100 x 50 x 50 cm
      water: {on: 2026-10-31, temperature: 25.4 °C, salinity: 35 ppt, alkalinity: 8.4 dKH, calcium: 425 mg/L, magnesium: 1330 mg/L, nitrate: 8 mg/L, phosphate: 0.06 mg/L, ammonia: 0 mg/L}
      spots: [{id: ledge, light: 180 PAR, flow: 10 cm/s, ground: rock, faces: up, gaps: none}]
      pumps: [{id: left-pump, guard: yes}, {id: right-pump, guard: no}]
      corals: [{id: anemone-1, is: bubble-tip anemone, size: 10 cm, comes from: 180 PAR}]
      """
    When I ask where anemone-1 should go
    Then I read "FIX FIRST"
    And I read "the intake of right-pump has no guard"

  Scenario: Old tubes are told by the lamp
    Given my tank file is
      """
      name: mine
      started: 2023-01-01
      glass: 100 x 50 x 50 cm
      pump guards: yes
      spots: [{id: ledge, light: 120 PAR, flow: 10 cm/s, ground: rock, faces: up}]
      lamps: [{id: tubes-1, kind: tube, installed: 2023-01-01, replaced: 2025-01-01}]
      """
    When I ask for an audit
    Then I read "1 piece of smaller advice (old-tubes-are-renewed)"
    When I ask "audit --open 1"
    Then I read "what shines in tubes-1"
    And I read "670 days"

  Scenario: A reading of a pump is added by command
    Given my tank file is
      """
      name: mine
      glass: 100 x 50 x 50 cm
      pumps: [right-pump]
      """
    When I tell that the guard of right-pump is no
    Then a check of my tank finds no fault
