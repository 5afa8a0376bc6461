"""Held to PDF/UA-1 by the typesetter itself, and here to what other programs read."""

from __future__ import annotations

import re
import shutil
import subprocess
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coaching.check_ins.content import Pack, Paper, Part
from coaching.check_ins.documents import pdf_of
from coaching.check_ins.documents.cautions import CAUTIONS
from coaching.check_ins.documents.made_words import short_name
from coaching.check_ins.documents.papers import Size
from tests.coaching.check_ins.documents import months
from tests.coaching.check_ins.documents.readers import fonts_of, pdf, structure_of, words_of
from tests.machine import leave_out_unless
from tests.repository import ROOT

PACKS = {
    "a month": months.a_month(),
    "an empty month": months.an_empty_month(),
    "forty exercises": months.forty_exercises(),
    "a long remark": months.a_long_remark(),
    "markup": months.named(months.MARKUP),
    "arabic": months.named("علي بن حسن"),
    "han": months.named("王小明"),
    "emoji": months.named("Ilse 🏋️ 👩🏽‍🎓"),
}
every_pack = pytest.mark.parametrize("pack", PACKS.values(), ids=PACKS)
both_papers = pytest.mark.parametrize("paper", Paper)


@every_pack
@both_papers
def test_every_face_is_embedded_and_every_letter_can_be_copied(pack: Pack, paper: Paper) -> None:
    fonts = fonts_of(pdf_of(pack, paper))

    assert any("Inter" in name for name in fonts)
    assert all({"/FontFile2", "/FontFile3"} & descriptor.keys() for descriptor in fonts.values())


@every_pack
@both_papers
def test_a_paper_says_its_title_its_language_and_that_it_is_tagged(pack: Pack, paper: Paper) -> None:
    read = pdf(pdf_of(pack, paper))

    root = read.trailer["/Root"]
    assert root["/Lang"] == "en-GB"
    assert root["/MarkInfo"]["/Marked"]
    assert read.metadata is not None
    assert pack.period.title in (read.metadata.title or "")
    assert read.metadata.author
    assert "pdfuaid" in root["/Metadata"].get_data().decode()


@every_pack
def test_the_same_pack_is_the_same_bytes(pack: Pack) -> None:
    assert pdf_of(pack, Paper.MINE) == pdf_of(replace(pack), Paper.MINE)


@both_papers
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_a_month_fits_two_pages_of_either_size(paper: Paper, size: Size) -> None:
    pages = pdf(pdf_of(months.a_month(), paper, size)).pages

    assert len(pages) == 2
    expected = (595, 842) if size == "a4" else (612, 792)
    assert {(round(page.mediabox.width), round(page.mediabox.height)) for page in pages} == {expected}


@both_papers
def test_everything_of_a_paper_can_be_read_on_it(paper: Paper) -> None:
    pack = months.a_month()

    words = words_of(pdf_of(pack, paper))

    assert all(sentence.text in words for sentence in pack.sentences)
    rows = [(short_name(one), one.now_text or "–", one.before_text or "–", one.change_text) for one in pack.figures]
    assert [row for row in rows if " ".join(row).strip() not in words] == []
    assert all(one.name in words and one.latest in words for one in pack.staircases)
    assert all(one.text in words for one in pack.agreed)
    assert all(caution in words for caution in CAUTIONS)
    assert re.findall(r"page (\d) of 2", words) == ["1", "2"]


def test_theirs_holds_nothing_that_is_the_coachs() -> None:
    pack = months.a_month(remarks={part: f"remark under {part.value}" for part in Part})
    hers = [one.sentence for one in pack.found] + [act for one in pack.found for act in one.done]
    hers += [one.outcome for one in pack.contacts] + [one.text for one in pack.answers if one.text]
    hers += [
        *pack.questions,
        *pack.traces.values(),
        *(one.made for one in pack.figures[:6]),
        "told from 11.64 % on",
        "e1RM 15.6",
    ]
    hers += [pack.remarks[part] for part in (Part.FOUND, Part.CONTACTS, Part.ANSWERS, Part.QUESTIONS)]

    mine, theirs = (pdf_of(pack, paper) for paper in (Paper.MINE, Paper.THEIRS))

    assert [words for words in hers if words not in words_of(mine)] == []
    assert [words for words in hers if words in words_of(theirs)] == []
    assert all(f"remark under {part.value}" in words_of(theirs) for part in pack.parts_of(Paper.THEIRS))


@both_papers
@pytest.mark.parametrize("part", Part)
def test_a_hidden_part_is_on_neither_paper(part: Part, paper: Paper) -> None:
    pack = months.a_month(hidden=frozenset({part}), remarks={part: "said beneath it"})

    words = words_of(pdf_of(pack, paper))

    assert "said beneath it" not in words
    assert part.title.upper() not in words


def test_markup_in_names_is_set_as_it_is_written() -> None:
    words = words_of(pdf_of(months.named(months.MARKUP), Paper.MINE))

    said = " ".join(months.MARKUP.split())
    assert words.count(said) > 20


@pytest.mark.parametrize(("name", "face"), [
    ("علي بن حسن", "NotoSansArabic"), ("王小明", "NotoSansCJK"), ("김민수", "NotoSansCJK"), ("דנה", "NotoSansHebrew"),
    ("Ilse 🏋", "NotoEmoji"), ("Łucja Ştefănescu Ω Ж", "Inter"),
])  # fmt: skip
def test_a_name_in_other_letters_has_a_face(name: str, face: str) -> None:
    paper = pdf_of(months.named(name), Paper.THEIRS)

    assert any(face in font for font in fonts_of(paper))
    assert "U+" not in words_of(paper)


def test_a_character_that_no_face_has_stands_there_as_its_code() -> None:
    words = words_of(pdf_of(months.named("Ilse \U00012000 \ue000"), Paper.THEIRS))

    assert "Ilse U+12000 U+E000" in words


@settings(max_examples=30, deadline=None)
@given(st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=40))
def test_any_name_can_be_set(name: str) -> None:
    """The typesetter refuses a paper with a letter that it has no glyph for."""
    assert pdf_of(months.named(name), Paper.MINE).startswith(b"%PDF")


def test_a_long_remark_stands_there_whole() -> None:
    pack = months.a_long_remark()
    remark = pack.remarks[Part.FIGURES]

    words = words_of(pdf_of(pack, Paper.THEIRS))

    assert len(remark) == 5000
    assert "".join(remark.split()) in re.sub(r"Ilse Brandt, March 2026 |Nobody.*?page \d of \d|\s", "", words)


def test_every_one_of_forty_exercises_is_told() -> None:
    pack = months.forty_exercises()

    paper = pdf_of(pack, Paper.THEIRS)

    words = words_of(paper)
    assert [one.name for one in pack.staircases if one.name not in words] == []
    assert len(pdf(paper).pages) == 3


@both_papers
def test_every_drawing_is_told_in_words(paper: Paper) -> None:
    pack = months.a_month()

    told = [words for tag, words in structure_of(pdf_of(pack, paper)) if tag == "Figure"]

    assert len(told) == len(pack.weeks) + len(pack.staircases)
    assert "1 done, 1 done in part, 1 told without details, 1 extra" in told
    assert any(
        words.startswith("goblet squat, kg asked and done: 3 of 5 met; now 12 kg. Tue 3 Mar: ") for words in told
    )


def test_drawings_are_lines_not_pictures() -> None:
    assert sum(len(page.images) for page in pdf(pdf_of(months.a_month(), Paper.MINE)).pages) == 0


def test_a_heading_stays_with_what_it_is_about() -> None:
    fillers = [
        months.a_month(remarks={Part.WEEKS: "\n".join("A line." for _ in range(lines))}) for lines in range(4, 16)
    ]

    for pack in fillers:
        pages = [page.extract_text() for page in pdf(pdf_of(pack, Paper.THEIRS)).pages]
        assert all(
            "goblet squat 12 kg" in " ".join(page.split("STAIRCASES")[1].split())
            for page in pages
            if "STAIRCASES" in page
        )


def test_headings_and_heads_of_tables_are_tagged() -> None:
    tags = [tag for tag, _ in structure_of(pdf_of(months.a_month(), Paper.MINE))]

    assert tags.count("H1") == 1
    assert tags.count("H2") >= 7
    assert tags.count("H3") == 6
    assert tags.count("TH") >= 4


def test_an_empty_month_says_why() -> None:
    paper = pdf_of(months.an_empty_month(), Paper.MINE)

    assert "Nothing was planned or done in March 2026." in words_of(paper)
    assert len(pdf(paper).pages) == 1


def test_the_cautions_are_those_of_the_pages() -> None:
    page = (ROOT / "templates/desk/_cautions.html").read_text(encoding="utf-8")

    said = " ".join(re.sub("<[^>]+>", "", page).split())

    assert all(caution in said for caution in CAUTIONS)


def test_papers_asked_for_at_the_same_time_are_those_asked_for_one_by_one() -> None:
    packs = [months.named(f"Ilse {number}") for number in range(8)]
    expected = [pdf_of(pack, Paper.THEIRS) for pack in packs]

    with ThreadPoolExecutor(4) as threads:
        together = list(threads.map(lambda pack: pdf_of(pack, Paper.THEIRS), packs))

    assert together == expected


def test_another_reader_finds_every_face_in_it_and_all_of_its_words(tmp_path: Path) -> None:
    leave_out_unless(
        shutil.which("pdffonts") is not None, "no poppler on this machine", required_by="MUSTER_BROWSER_REQUIRED"
    )
    pack, paper = months.named("علي 王小明 Ilse 🏋️"), tmp_path / "paper.pdf"
    paper.write_bytes(pdf_of(pack, Paper.MINE))

    fonts = poppler("pdffonts", str(paper)).splitlines()[2:]
    about = poppler("pdfinfo", str(paper))
    words = " ".join(poppler("pdftotext", "-layout", str(paper), "-").split())

    assert len(fonts) >= 5
    assert all(re.search(r" yes yes yes +\d+ +0$", font) for font in fonts)
    assert re.search(r"^Tagged: +yes$", about, re.MULTILINE)
    assert "王小明" in words
    assert "What went well?" in words


def poppler(*command: str) -> str:
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


@both_papers
def test_e1rm_is_explained_where_it_is_told(paper: Paper) -> None:
    told, untold = months.a_month(), replace(months.a_month(), figures=months.a_month().figures[:1])

    assert "e1RM: the load that could be lifted once" in words_of(pdf_of(told, paper))
    assert "e1RM: the load" not in words_of(pdf_of(untold, paper))
