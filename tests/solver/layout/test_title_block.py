"""A title block is a value, empty where nothing was typed."""

from solver.layout.title_block import Revision, TitleBlock


def test_it_is_empty_unless_filled_in_and_equal_where_its_lines_are() -> None:
    assert not any(getattr(TitleBlock(), name) for name in TitleBlock.__slots__)
    one = TitleBlock(client="A", revisions=(Revision("A", "2026-01-10", "first issue"),))
    assert one == TitleBlock(client="A", revisions=(Revision("A", "2026-01-10", "first issue"),))
    assert one != TitleBlock(client="A")


def test_client_and_revision_stand_in_one_line() -> None:
    assert TitleBlock(client="Upper Farm", revision="B").issue == "Upper Farm, revision B"
    assert (TitleBlock(revision="B").issue, TitleBlock().issue) == ("revision B", "")
