"""The style sheet of printed note cards."""

STYLE = """\
:root { --ink: #17262e; --quiet: #5d6c72; --paper: #fffdf6; --desk: #dfe6e4; --rule: #cfc8b4;
  --warn: #a3201a; --tint: #54707a; }
* { box-sizing: border-box; }
body { margin: 0; background: var(--desk); color: var(--ink);
  font: 12.5px/1.36 "Gill Sans", "Gill Sans MT", Seravek, Ubuntu, Calibri, "Noto Sans", sans-serif;
  -webkit-print-color-adjust: exact; print-color-adjust: exact; }
.sheet { max-width: 84rem; margin: 0 auto; padding: 1.2rem 1rem 0; }
.sheet h1, h2 { font-family: "Iowan Old Style", "Palatino Linotype", Palatino, "Book Antiqua", Georgia, serif;
  font-weight: 600; line-height: 1.1; margin: 0; }
.sheet p { margin: .3rem 0 0; color: var(--quiet); }
.cards { display: grid; grid-template-columns: repeat(auto-fill, minmax(22rem, 1fr)); gap: 1.1rem;
  max-width: 84rem; margin: 0 auto; padding: 1rem; align-items: start; }
.card { background: var(--paper); padding: .8rem .9rem .6rem 1.25rem; position: relative; border-radius: 3px;
  border: 1px solid var(--rule); box-shadow: 0 1px 5px #17262e26; break-inside: avoid; }
.card::before { content: ""; position: absolute; inset: 0 auto 0 0; width: .5rem; background: var(--tint);
  border-radius: 3px 0 0 3px; }
.small-polyp { --tint: #1f7a7d; } .large-polyp { --tint: #8b4a86; } .soft { --tint: #8a7d1f; }
.mushroom { --tint: #b5562a; } .zoanthid { --tint: #b3202f; } .gorgonian { --tint: #5a4fa0; }
.sea-fan { --tint: #94467a; } .sun-coral { --tint: #d98a00; } .clam { --tint: #24609f; }
.anemone { --tint: #3f8a4b; }
.card header { border-bottom: 3px double var(--tint); padding-bottom: .35rem; }
.card h2 { font-size: 1.55rem; color: var(--tint); }
.card h2::first-letter { text-transform: uppercase; }
.card header i { color: var(--quiet); }
.card header p { margin: .15rem 0 0; font-size: .92em; }
.kind { float: right; font-size: .72em; letter-spacing: .09em; text-transform: uppercase; color: var(--tint);
  border: 1px solid; border-radius: 1em; padding: .1em .7em; margin: .25rem 0 0 .5rem; }
.caution { margin: .45rem 0 0; padding: .35rem .5rem; color: var(--warn); border: 1.5px solid var(--warn);
  border-left-width: .45rem; border-radius: 2px; }
.caution b { text-transform: uppercase; letter-spacing: .08em; font-size: .85em; }
svg { display: block; width: 100%; height: auto; margin: .45rem 0 .1rem; overflow: visible; }
svg text { font: 8px "Gill Sans", Seravek, Ubuntu, Calibri, "Noto Sans", sans-serif; fill: var(--ink); }
svg .head { font-size: 7.5px; letter-spacing: .05em; fill: var(--quiet); }
svg .tick { font-size: 6.5px; fill: var(--quiet); } svg .end { text-anchor: end; }
svg .mid { text-anchor: middle; }
svg .value { font-size: 9px; font-weight: 600; }
svg .water { fill: url(#water); stroke: #8fb2bb; stroke-width: .6; }
svg .best { fill: var(--tint); stroke: var(--paper); stroke-width: 1; }
svg .best.other { fill: var(--paper); stroke: var(--tint); stroke-width: 1.4; }
svg .range { fill: none; stroke: var(--ink); stroke-width: 1; }
svg .ring { fill: none; stroke: var(--rule); stroke-width: .7; }
svg .usual { fill: var(--tint); fill-opacity: .28; }
svg .most { fill: none; stroke: var(--tint); stroke-width: 1.2; stroke-dasharray: 3 2.2; }
svg .coral { fill: var(--ink); } svg .stream { fill: none; stroke: #8fb2bb; stroke-width: .9; }
.needs { margin: .3rem 0 0; }
.needs > div { display: grid; grid-template-columns: 5.4rem 1fr; padding: .16rem 0;
  border-top: 1px solid var(--rule); }
.needs dt { grid-row: 1 / span 20; color: var(--tint); font-weight: 600; padding-right: .4rem; }
.needs dd { grid-column: 2; margin: 0; } .needs dd > span:not(.pips) { color: var(--quiet); }
.pips { letter-spacing: .05em; color: var(--tint); white-space: nowrap; }
.differs { color: var(--warn); }
sup { font-size: .68em; color: var(--quiet); line-height: 0; padding-left: .2em; }
sup::before, .legend span::before { font-size: 1.05em; }
sup.study::before, .legend .study::before { content: "▲"; }
sup.maker::before, .legend .maker::before { content: "■"; }
sup.experience::before, .legend .experience::before { content: "◐"; }
sup.guess::before, .legend .guess::before { content: "◌"; }
.card section { margin-top: .45rem; } .card h3 { margin: 0; font-size: 1em; color: var(--tint); }
.card ul { list-style: none; margin: 0; padding: 0; }
.disputes { border: 1px dashed var(--warn); border-radius: 2px; padding: .3rem .5rem; }
.disputes h3 { color: var(--warn); }
.keeping dd { padding-left: .7em; text-indent: -.7em; }
.asks li { display: flex; gap: .4rem; align-items: end; padding-top: .22rem; }
.asks li::before { content: "☐"; align-self: start; }
.asks li::after { content: ""; flex: 1 0 3.2rem;
  border-bottom: 1px dotted var(--quiet); margin-bottom: .18rem; }
.card footer { margin-top: .5rem; border-top: 1px solid var(--rule); font-size: .76em; color: var(--quiet); }
.card footer p { margin: .2rem 0 0; } .legend span { margin-right: .9em; }
.legend span::before { margin-right: .35em; }
@page { size: A4 landscape; margin: 8mm; }
@media print {
  body { background: none; font-size: 6.7pt; line-height: 1.2; }
  .sheet { display: none; }
  .cards { display: block; columns: 3; column-gap: 4mm; padding: 0; max-width: none; }
  .card { display: inline-block; width: 100%; margin: 0 0 3mm; padding: 2mm 2.4mm 1.2mm 4.4mm;
    box-shadow: none; border: 1px dashed #8a8a8a; border-radius: 0; }
  .card::before { border-radius: 0; width: 1.9mm; }
  .card h2 { font-size: 13pt; }
  .needs > div { padding: .05rem 0; grid-template-columns: 14mm 1fr; }
  .card section { margin-top: .15rem; }
  .asks li { padding-top: .06rem; }
  .asks li::after { flex-basis: 1.2rem; }
  .caution { margin-top: .25rem; padding: .15rem .3rem; }
  .card footer { margin-top: .25rem; line-height: 1.12; }
  .needs { margin-top: .1rem; }
  svg { width: 96%; margin: .25rem 0 0; } }
"""
