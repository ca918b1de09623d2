"""Words beside their marks on a card: inside their panel, and off its lines as long as there is another place."""

import numpy as np

from gudgeon.report.card_marks import Told, told
from gudgeon.report.line_map import line_map
from gudgeon.report.strokes import Line, Note, path
from gudgeon.report.tile import note_width

NOTE = Note((30.0, 20.0), "4", ("5/16 in", "stop 1 3/64, 90 deg"))
FRAME = path(Line.VISIBLE, [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)], closed=True)


def test_length_of_line_under_a_box_is_what_lies_in_it():
    lines = line_map([path(Line.THIN, [(0.0, 10.0), (40.0, 10.0)]), FRAME])
    boxes = [(5.0, 8.0, 25.0, 12.0), (50.0, 30.0, 70.0, 50.0), (5.0, 20.0, 9.0, 30.0)]
    long, corner, none = lines.under(np.array(boxes))
    assert abs(long - 20.0) < 1.0
    assert abs(corner - 20.0) < 1.0  # ten of each edge
    assert none == 0.0


def test_words_leave_a_line_alone_that_runs_where_they_would_stand():
    across = [path(Line.THIN, [(0.0, y), (60.0, y)]) for y in (17.0, 23.0)]
    lines = line_map([FRAME, *across])
    mark = Told(NOTE, (0.8, 0.8, 59.2, 39.2))
    (flag,) = told([mark], (), lines)
    assert float(lines.under(np.array([flag.box]))[0]) < 0.5
    (without,) = told([mark], (), line_map([FRAME]))
    assert float(lines.under(np.array([without.box]))[0]) > 5.0


def test_words_too_wide_for_their_panel_are_parted_and_stay_inside():
    room = (30.0, 0.8, 30.0 + note_width(NOTE) - 2.0, 39.2)
    (flag,) = told([Told(NOTE, room)], (), line_map([FRAME]))
    assert len(flag.note.words) == 3
    assert flag.left >= room[0]
    assert flag.right <= room[2]
