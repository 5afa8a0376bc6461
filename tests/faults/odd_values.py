"""Values that nobody means, and some that are just beside what is meant."""

from __future__ import annotations

ODD_TEXTS = [
    "", " ", "0", "-0", "-1", "1e9", "1e308", "1e-308", "1e999", "nan", "NaN", "inf", "-inf", "1.5", "1,5", "1.234,5",
    "½", "٣", "９", "0x1f", "1_0", "9" * 40, "9" * 5000, "0." + "0" * 300 + "1", "8 each", "12-10-8", "30 s",
    "8-" * 200, "bw", "band red", "yes", "no", "lb", "kg", "mon", "deload", "2026-02-30", "2026-04-15", "31.12.2026",
    "4/13/2026", "1/2/2026", "9999-12-31", "0001-01-01", "1899-12-31", "2026-04-15 18:30", "45000", "x" * 300,
    "x" * 32_767, "x" * 100_001, "é" * 70_000, "=1+1", "=cmd|' /C calc'!A0", "+1", "-x", "@SUM(A1)", "'=1", "''", "'",
    "\t=1", "＝1", "\x1b[31mred", "\u202eabc", "\ufeff", "\u200b", "\x01", "\x7f", "\u2028", "a\nb", "a\rb", 'a"b',
    "a;b", "a,b", "a\tb", "null", "None", "true", "<script>alert(1)</script>", "' OR 1=1 --", "../../etc/passwd",
    "%s%n", "{{7*7}}", "ß" * 80, "İ" * 80, "a\u0301" * 60, "👍🏽" * 50, "𝔸", "00000000-0000-0000-0000-000000000000",
    "kettlebell: 8, 12", "a:1;" * 3000, "2-20/0", "2026-01-01..2026-01-02", "2026-02-08..2026-02-02", "Europe/Lisbon",
    "Nowhere/City", "a@b.cd", "a@" + "b" * 300 + ".cd",
]  # fmt: skip

ODD_CELL_MARKUP = [
    '<c r="{at}"/>', '<c r="{at}"><v></v></c>', '<c r="{at}"><v>NaN</v></c>', '<c r="{at}"><v>1e308</v></c>',
    '<c r="{at}"><v>1e999</v></c>', '<c r="{at}"><v>-1e-320</v></c>', '<c r="{at}"><v>{digits}</v></c>',
    '<c r="{at}" t="s"><v>999999</v></c>', '<c r="{at}" t="s"><v>-1</v></c>', '<c r="{at}" t="s"><v>1.5</v></c>',
    '<c r="{at}" t="b"><v>2</v></c>', '<c r="{at}" t="b"><v>1</v></c>', '<c r="{at}" t="e"><v>#REF!</v></c>',
    '<c r="{at}" t="d"><v>2026-04-15</v></c>', '<c r="{at}" t="d"><v>soon</v></c>', '<c r="{at}" t="zz"><v>1</v></c>',
    '<c r="{at}" t="str"><v>8</v></c>', '<c r="{at}" t="inlineStr"><is><t>8</t></is></c>',
    '<c r="{at}" t="inlineStr"><is><r><t>8</t></r><r><t> each</t></r></is></c>', '<c r="{at}" t="inlineStr"/>',
    '<c r="{at}" t="inlineStr"><is><t>{long}</t></is></c>', '<c r="{at}"><f>1+1</f></c>',
    '<c r="{at}"><f>1+1</f><v>2</v></c>', '<c r="{at}"><f t="shared" si="0"/></c>',
    '<c r="{at}"><f t="array" ref="A1:B2">A1:A2</f></c>', '<c r="{at}" t="str"><f>""</f><v></v></c>',
    '<c r="{at}"><f t="dataTable" ref="A1" dt2D="1"/></c>', '<c r="{at}" s="1"><v>45000</v></c>',
    '<c r="{at}" s="99999"><v>45000</v></c>', '<c r="{at}" s="-1"><v>1</v></c>', '<c r="{at}" s="x"><v>1</v></c>',
    '<c r="{at}" s="1"><v>-5</v></c>', '<c r="{at}" s="1"><v>1e15</v></c>', '<c r="XFD1048576"><v>1</v></c>',
    '<c r="ZZZ9999999"><v>1</v></c>', '<c r="A0"><v>1</v></c>', '<c r=""><v>1</v></c>', "<c><v>1</v></c>",
    '<c r="{at}"><v>1</v><v>2</v></c>', '<c r="{at}"><c r="{at}"><v>1</v></c></c>', '<x r="{at}"><v>1</v></x>',
]  # fmt: skip
