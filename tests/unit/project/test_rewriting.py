"""Texts keep their comments, whatever their layout: exact constructed cases, read back by the standard library."""

from __future__ import annotations

import tomllib

import pytest

from loftwright.core.errors import ProjectFault
from loftwright.project import rewriting
from loftwright.project.demos import DEMOS, demo_text
from loftwright.project.file import loads
from loftwright.project.rewriting import edited, same, without

TOP = 'format = 1\nname = "x"\n'


# --- taking out -------------------------------------------------------------------------------------

LIST = f"""{TOP}
[handle]
strap_length = "1 m"

# about springs and panels

# the left one
[[spring]]
name = "left"   # worn
feet = [
  ["1 m", "2 m"],  # upper
  ["3 m", "4 m"],
]

# the right one
[[spring]]
name = "right"
# below it

# Items.
[[item]]
name = "rack"
"""


def test_a_named_entry_goes_with_the_comment_right_above_it() -> None:
    assert without(LIST, "spring.0") == LIST.replace(
        LIST[LIST.index("# the left one") : LIST.index("# the right one")], ""
    )
    assert without(LIST, "spring.1") == LIST.replace(
        LIST[LIST.index("# the right one") : LIST.index("# below it")], ""
    ).replace("# below it\n\n", "")


def test_the_last_entry_of_the_file_leaves_no_gap_at_its_end() -> None:
    assert without(LIST, "item.0") == LIST[: LIST.index("\n# Items.")]


READINGS = f"""{TOP}
# First set: all read on one morning.
[[reading]]
after = 1

[[reading]]
after = 2

# the tape
[[tape]]
step = "hinges"
"""


def test_a_comment_above_several_without_names_stays_for_the_others() -> None:
    assert without(READINGS, "reading.0") == READINGS.replace("[[reading]]\nafter = 1\n\n", "")
    assert without(READINGS, "reading.1") == READINGS.replace("[[reading]]\nafter = 2\n\n", "")
    assert without(without(READINGS, "reading.1"), "reading.0") == f'{TOP}\n# the tape\n[[tape]]\nstep = "hinges"\n'


def test_an_entry_goes_with_the_sections_below_it() -> None:
    text = (
        f'{TOP}\n[[at_hand]]\nname = "a"\n\n# pushed at home\n[at_hand.home_test]\nreads_in = "1 kg"\n\n'
        '# the other\n[[at_hand]]\nname = "b"\n\n[at_hand.home_test]\nreads_in = "2 kg"\n\n[forces]\ngust = "9 m/s"\n'
    )
    first, second = text.index("[[at_hand]]"), text.index("# the other")
    assert without(text, "at_hand.0") == text[:first] + text[second:]
    assert without(text, "at_hand.1") == text[:second] + text[text.index("[forces]") :]
    assert without(text, "at_hand.0.home_test") == text[: text.index("# pushed")] + text[second:]


def test_a_section_is_taken_out() -> None:
    text = demo_text("fennimoor")
    block = '[bed]\nfrom = "0.95 m"\nto = "2.00 m"\nheight = "-330 mm, measured"\n\n'
    assert text.count(block) == 1
    assert without(text, "bed") == text.replace(block, "")
    assert loads(without(text, "bed")).bed is None


def test_a_whole_list_is_taken_out() -> None:
    assert without(LIST, "spring") == LIST.replace(
        LIST[LIST.index("# the left one") : LIST.index("# below it")], ""
    ).replace("# below it\n\n", "")
    assert without(READINGS, "reading") == f'{TOP}\n# the tape\n[[tape]]\nstep = "hinges"\n'
    assert without(LIST, "spring.0.feet") == LIST.replace(LIST[LIST.index("feet") : LIST.index("\n# the right")], "")
    with pytest.raises(ProjectFault, match="zone is not in the file"):
        without(LIST, "zone")


def test_points_and_inline_tables_go_from_their_lists() -> None:
    assert without(LIST, "spring.0.feet.0") == LIST.replace('  ["1 m", "2 m"],  # upper\n', "")
    one = without(without(LIST, "spring.0.feet.1"), "spring.0.feet.0")
    assert "feet" not in one
    assert one.count("\n") == LIST.count("\n") - 4
    weighed = demo_text("quellmere")
    last = '  { balance = "1.035 m +- 15 mm, measured" },  # over the pipe\n'
    assert without(weighed, "weighing.reading.4") == weighed.replace(last, "")
    assert len(tomllib.loads(without(weighed, "weighing.reading.0"))["weighing"]["reading"]) == 4


@pytest.mark.parametrize(
    "body",
    [
        'spring = [{ name = "a" }, { name = "b" }]\nbed = { from = "1 m" }\n',
        'spring = [\n  { name = "a" },\n  { name = "b" },\n]\nbed.from = "1 m"\n',
        '[[ spring ]]\nname = "a"\n[ "bed" ]\nfrom = "1 m"\n[["spring"]]\nname = "b"\n',
        '[bed]\nfrom = """1 m\\\n  """\n[[spring]]\nname = "a"\n[[spring]]\nname = "b"',
        '[bed] # [[spring]]\nfrom = "[[spring]]"\n[[spring]] # one\nname = "a"\n[[spring]]\nname = "b"\n',
    ],
)
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_any_layout_is_kept_or_refused(body: str, ends: str) -> None:
    text = (TOP + body).replace("\n", ends)
    whole = tomllib.loads(text)
    for path, wanted in (
        ("spring.0", {**whole, "spring": [{"name": "b"}]}),
        ("spring.1", {**whole, "spring": [{"name": "a"}]}),
        ("bed", {key: value for key, value in whole.items() if key != "bed"}),
    ):
        try:
            after = without(text, path)
        except ProjectFault as fault:
            assert "laid out in a way that this change cannot be written into" in str(fault)  # noqa: PT017
        else:
            assert tomllib.loads(after) == wanted


@pytest.mark.parametrize("name", DEMOS)
def test_every_entry_of_every_demo_goes_and_all_else_stays(name: str) -> None:
    text = demo_text(name)
    whole = tomllib.loads(text)
    lists = {key: value for key, value in whole.items() if isinstance(value, list)}
    assert lists
    for key, entries in lists.items():
        for number in range(len(entries)):
            after = without(text, f"{key}.{number}")
            left = entries[:number] + entries[number + 1 :]
            assert tomllib.loads(after) == {k: left if k == key else v for k, v in whole.items() if k != key or left}
            lines = iter(text.splitlines())
            assert all(line in lines for line in after.splitlines())
            assert "\n\n\n" not in after


# --- adding ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("body", "changes", "wanted"),
    [
        ('[roof]\nprofile = "unknown"\n', {"roof.profile.0.x": "1 m"}, {"roof": {"profile": [["1 m", "unknown"]]}}),
        ('[weighing]\nreading = "unknown" # none\n', {"weighing.reading.0.whole": "9 kg"},
         {"weighing": {"reading": [{"whole": "9 kg"}]}}),
        ('spring = [{ name = "a" }]\n', {"spring.0.foot.x": "1 m", "spring.1.name": "b"},
         {"spring": [{"name": "a", "foot": ["1 m", "unknown"]}, {"name": "b"}]}),
        ('at_hand = [{ name = "a" }]\n', {"at_hand.0.home_test.reads_in": "9 kg"},
         {"at_hand": [{"name": "a", "home_test": {"reads_in": "9 kg"}}]}),
        ('bed.from = "1 m"\n', {"bed.from": "2 m", "bed.to": "3 m"}, {"bed": {"from": "2 m", "to": "3 m"}}),
        ('[[spring]]\nname = "a"\nfeet = [["1 m"], "unknown"]\n',
         {"spring.0.feet.0.z": "2 m", "spring.0.feet.1.x": "3 m"},
         {"spring": [{"name": "a", "feet": [["unknown", "2 m"], ["3 m", "unknown"]]}]}),
        ('[settings]\ndraws = 200\nseed = 1\n', {"settings.draws": True, "settings.seed": "1"},
         {"settings": {"draws": True, "seed": "1"}}),
        ('[person]\nheight = nan\n', {"person.reach": "2 m"}, None),
        ('', {"name": 'a "quoted" \\ one\n\u2028\x7f'}, {"name": 'a "quoted" \\ one\n\u2028\x7f'}),
    ],
)  # fmt: skip
def test_layouts_that_people_write_are_changed(
    body: str, changes: dict[str, str | int | bool | None], wanted: dict[str, object] | None
) -> None:
    after = tomllib.loads(edited(TOP + body, changes))
    if wanted is not None:
        assert after == {"format": 1, "name": "x", **wanted}
    else:
        assert after["person"]["reach"] == "2 m"


def test_comments_behind_a_section_of_an_entry_stay_with_what_follows() -> None:
    text = f'{TOP}\n[[at_hand]]\nname = "a"\n\n[at_hand.home_test]\nreads_in = "1 kg"\n\n# the tape\n'
    text += '[[tape]]\nstep = "hinges"\n'
    assert edited(text, {"at_hand.1.name": "b"}) == text.replace(
        "\n# the tape", '\n[[at_hand]]\nname = "b"\n\n# the tape'
    )
    plain = text.replace('[at_hand.home_test]\nreads_in = "1 kg"\n\n', "")
    after = edited(plain, {"at_hand.0.home_test.reads_in": "1 kg"})
    assert after == text


def test_none_takes_keys_out_at_any_depth() -> None:
    text = demo_text("fennimoor")
    gone = 'own_speed = "0.2 m/s, label"\n'
    assert edited(text, {"spring.0.own_speed": None}) == text.replace(gone, "")
    assert edited(text, {"handle.at.x": None, "handle.at.z": None}) == text.replace('at = ["-60 mm", "10 mm"]\n', "")
    assert edited(text, {"handle.at": None}) == edited(text, {"handle.at.x": None, "handle.at.z": None})
    assert edited(text, {"handle.at.x": None}) == text.replace('["-60 mm", "10 mm"]', '["unknown", "10 mm"]')
    for nothing_there in (
        "links.rise",
        "spring.1.name",
        "spring.0.feet.0.x",
        "linkage.arm_a_van.x",
        "weighing.tilt.at",
    ):
        assert edited(text, {nothing_there: None}) == text
    with pytest.raises(
        ProjectFault, match=r'shell\.mas is not a value of the project file: the nearest is "shell\.mass"'
    ):
        edited(text, {"shell.mas": None})


def test_a_text_that_came_out_otherwise_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    for wrong in (TOP + "[bed]\n", "no toml", TOP.replace("1", "true")):
        monkeypatch.setattr(rewriting, "_dumped", lambda *_, wrong=wrong: wrong)
        with pytest.raises(ProjectFault, match="laid out in a way that this change cannot be written into"):
            edited(TOP, {"name": "y"}, "roof.toml")


def test_same_tells_kinds_apart() -> None:
    nan = float("nan")
    assert same({"a": [1, nan, "x"]}, {"a": [1, nan, "x"]})
    for other in (True, 1.0, "1", [1], {"a": 1}):
        assert not same(1, other)
    assert not same({"a": 1}, {"a": 1, "b": 1})
    assert not same([1], [1, 1])


@pytest.mark.parametrize("name", DEMOS)
def test_whole_lists_go_and_all_else_stays(name: str) -> None:
    text = demo_text(name)
    whole = tomllib.loads(text)
    for key in (key for key, value in whole.items() if isinstance(value, list)):
        after = without(text, key)
        assert tomllib.loads(after) == {k: v for k, v in whole.items() if k != key}
        lines = iter(text.splitlines())
        assert all(line in lines for line in after.splitlines())
        with pytest.raises(ProjectFault, match="it may have been taken out already"):
            without(after, key)


def test_a_list_within_a_section_goes_as_well() -> None:
    text = demo_text("fennimoor")
    roof = tomllib.loads(text)["roof"]
    after = without(text, "roof.profile")
    assert tomllib.loads(after)["roof"] == {key: value for key, value in roof.items() if key != "profile"}
    assert "profile" in roof
    assert loads(after).roof.profile == ()
    weighed = demo_text("quellmere")
    assert "reading" not in tomllib.loads(without(weighed, "weighing.reading"))["weighing"]
    assert "feet" not in without(LIST, "spring.0.feet")
