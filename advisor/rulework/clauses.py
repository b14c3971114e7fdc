"""What changed in a declaration, clause by clause, as it is written."""

from __future__ import annotations

from advisor.errors import Span
from advisor.language.format_decl import clauses
from advisor.language.format_expr import HARD_SPACE, binder, expression, from_base, literal, source, template
from advisor.language.format_house import card_line, edit_text
from advisor.language.nodes import Card, CardValue, HouseEdit, Let, Prefer, Rule, Stage
from advisor.model.difference import Declared, DeclaredChange, LineChange
from advisor.rulework.declared import Content, Key


def declared_change(key: Key, old: Content | None, new: Content | None) -> DeclaredChange:
    """Return what became of one declaration."""
    what = Declared.ADDED if old is None else Declared.REMOVED if new is None else Declared.CHANGED
    before = {} if old is None else written_clauses(old)
    after = {} if new is None else written_clauses(new)
    lines = tuple(
        LineChange(clause=clause, old=before.get(clause, ""), new=after.get(clause, ""))
        for clause in dict.fromkeys((*before, *after))
        if before.get(clause, "") != after.get(clause, "")
    )
    span = _span(new) or _span(old) or Span("")
    return DeclaredChange(
        id=str(key),
        kind=key.kind,
        name=key.name,
        what=what,
        lines=lines,
        file=span.file,
        line=span.line if span.file else 0,
    )


def written_clauses(item: Content) -> dict[str, str]:
    """Return a declaration's clauses as they are written, by their first word."""
    match item:
        case Rule():
            return _rule(item)
        case Prefer():
            return _prefer(item)
        case Let(value=value, because=because):
            told = {"value": literal(value), "because": because}
            return _plain(told | ({} if item.source is None else {"source": source(item.source)}))
        case Card():
            told = {"title": item.title, "also": ", ".join(item.also)}
            return _plain(told | ({} if item.source is None else {"source": source(item.source)}))
        case HouseEdit():
            return _plain({"accept": edit_text(item)})
        case tuple():
            return _line(item)
        case _:
            text = " ".join(line.strip() for clause in clauses(item) for line in clause.lines)
            return _plain({"reads": " ".join(text.split())})


def _plain(told: dict[str, str]) -> dict[str, str]:
    """Clauses without those that say nothing, hard spaces as plain ones."""
    return {clause: text.replace(HARD_SPACE, " ") for clause, text in told.items() if text}


def _rule(item: Rule) -> dict[str, str]:
    """The clauses of a rule."""
    told = {
        "for": ", ".join(binder(part) for part in item.binders),
        "when": "" if item.when is None else expression(item.when),
        "expect": item.by_eye if item.expect is None else expression(item.expect),
        "until": "horizon" if item.until_horizon else "",
        "unless": "" if item.unless is None else expression(item.unless),
        "level": item.level.value,
        "stage": "" if item.stage is Stage.ALWAYS else item.stage.value,
        "because": template(item.because),
        "matters": item.matters,
        "remedy": template(item.remedy),
        "then do": "; ".join(template(duty) for duty in item.duties),
        "source": "" if item.source is None else source(item.source),
    }
    return _plain(told)


def _prefer(item: Prefer) -> dict[str, str]:
    """The clauses of a preference."""
    told = {
        "for": ", ".join(binder(part) for part in item.binders),
        "when": "" if item.when is None else expression(item.when),
        "want": expression(item.want),
        "weight": f"{item.weight:g}",
        "fade": f"{item.fade_steps:g} steps",
        "because": template(item.because),
        "source": "" if item.source is None else source(item.source),
    }
    return _plain(told)


def _line(values: tuple[CardValue, ...]) -> dict[str, str]:
    """The values of one line of a card, and their grounds."""
    if not values:
        return {}
    grounds = dict.fromkeys(source(value.source) for value in values if value.source is not None)
    said = " and ".join(_value(value) for value in values)
    return _plain({card_line(values[0].key, values[0].of): said, "source": "; ".join(grounds)})


def _value(value: CardValue) -> str:
    """One value of a card."""
    if value.number is not None:
        return from_base(value.number, value.unit)
    return ", ".join(value.words) or value.word or value.text


def _span(item: Content | None) -> Span | None:
    """Where a declaration stands."""
    if item is None:
        return None
    if isinstance(item, tuple):
        return item[0].span if item else None
    return item.span
