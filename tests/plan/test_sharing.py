"""Boards saved by ripping: small cases laid out by hand."""

from plankwright.plan.sharing import Cutting, share_boards

LENGTH, WIDTH, KERF, CUT = 1000.0, 200.0, 3.0, 6.0


def boards(*cuttings: Cutting) -> list[int]:
    return [cutting.board for cutting in share_boards(cuttings, LENGTH, WIDTH, KERF, CUT)]


def whole(board: int, low: float, high: float) -> Cutting:
    return Cutting(board, (0.0, LENGTH), (low, high))


def test_two_strips_that_fit_with_a_kerf_share_a_board() -> None:
    # 90 + 3 + 100 = 193 of 200: one needs the wall side, the other the room side
    assert len(set(boards(whole(1, 0.0, 90.0), whole(2, 100.0, 200.0)))) == 1


def test_strips_that_leave_no_room_for_the_kerf_do_not() -> None:
    # 98 + 3 + 100 = 201: a millimeter short
    assert len(set(boards(whole(1, 0.0, 98.0), whole(2, 100.0, 200.0)))) == 2


def test_two_strips_of_the_same_side_never_share() -> None:
    assert len(set(boards(whole(1, 0.0, 60.0), whole(2, 0.0, 60.0)))) == 2


def test_a_board_is_saved_only_if_all_its_pieces_find_a_place() -> None:
    starter = Cutting(1, (600.0, LENGTH), (0.0, 90.0))
    full_width = Cutting(1, (0.0, 500.0), (0.0, WIDTH))
    assert boards(starter, full_width, whole(2, 100.0, 200.0)) == [1, 1, 2]


def test_a_loose_piece_may_move_along_its_board() -> None:
    loose = Cutting(1, (0.0, 300.0), (0.0, 90.0), is_loose=True)
    there = Cutting(2, (0.0, 500.0), (0.0, 90.0))
    # 300 beyond 500 and a cut of 6: from 506.1 on
    moved, _ = share_boards([loose, there], LENGTH, WIDTH, KERF, CUT)
    assert moved.board == 2
    assert moved.along[0] >= 506.0
    fixed = Cutting(1, (0.0, 300.0), (0.0, 90.0))
    assert boards(fixed, there) == [1, 2]


def test_what_is_left_of_an_offcut_at_hand_costs_no_board() -> None:
    # 590 of the far end is there: a starter of 500 fits, one of 600 does not, nor an end piece
    gone = {-1: [Cutting(-1, (-LENGTH, 410.0 - CUT - 0.1), (0.0, WIDTH))]}

    def board_of(low: float, high: float) -> int:
        piece = Cutting(1, (low, high), (0.0, WIDTH))
        return share_boards([piece], LENGTH, WIDTH, KERF, CUT, gone)[0].board

    assert [board_of(500.0, LENGTH), board_of(400.0, LENGTH), board_of(0.0, 500.0)] == [-1, 1, 1]


def test_two_pieces_do_not_lie_in_the_same_place_of_an_offcut() -> None:
    gone = {-1: [Cutting(-1, (-LENGTH, 200.0), (0.0, WIDTH))]}
    starters = [Cutting(board, (600.0, LENGTH), (0.0, WIDTH)) for board in (1, 2)]
    assert [c.board for c in share_boards(starters, LENGTH, WIDTH, KERF, CUT, gone)] == [-1, 2]
