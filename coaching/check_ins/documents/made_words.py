"""How the figures of a pack were made, said once where it is the same for several."""

from __future__ import annotations

from collections.abc import Sequence

from coaching.check_ins.content import Figure, FigureKey, Pack, Paper, Part

STOP = ". "


def made_of(pack: Pack) -> list[list[str]]:
    """Of the figures that are shown, then what sentences say beyond them."""
    shown = pack.parts_of(Paper.MINE)
    told = _figures_made(pack.figures) if Part.FIGURES in shown else []
    traces = pack.traces.values() if Part.SENTENCES in shown else ()
    behind = "".join(f"{text.removesuffix('.')}. " for text in traces).strip()
    return told + ([["Behind the words", behind]] if behind else [])


def _figures_made(figures: Sequence[Figure]) -> list[list[str]]:
    told = [[one.name, one.made] for one in figures if one.made and one.key is not FigureKey.BEST_SETS]
    best = [one for one in figures if one.made and one.key is FigureKey.BEST_SETS]
    return [*told, ["Best sets", _together(best)]] if best else told


def _together(figures: Sequence[Figure]) -> str:
    """Each sentence once: that of all as it is, that of some behind their names."""
    by_sentence: dict[str, list[str]] = {}
    for figure in figures:
        for sentence in figure.made.removesuffix(".").split(STOP):
            by_sentence.setdefault(sentence, []).append(short_name(figure))
    of_all = [sentence for sentence, names in by_sentence.items() if len(names) == len(figures)]
    of_some = [
        f"{', '.join(names)}: {sentence[:1].lower()}{sentence[1:]}"
        for sentence, names in by_sentence.items()
        if len(names) < len(figures)
    ]
    return STOP.join([*of_all, *of_some]) + "."


def short_name(figure: Figure) -> str:
    """Without what the head of a column says of all best sets."""
    return figure.name.removeprefix("Best set: ")
