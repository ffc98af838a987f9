"""ISO 2768-1 general tolerances."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slotwright.errors import NotListedError
from slotwright.parts.general_tolerances import CLASSES, angular_tolerance, edge_tolerance, linear_tolerance


@pytest.mark.parametrize(
    ("tolerance_class", "size", "tolerance"),
    [
        *(("m", size, t) for size, t in [(3, 0.1), (6, 0.1), (30, 0.2), (120, 0.3), (400, 0.5), (1000, 0.8),
                                         (2000, 1.2), (4000, 2.0), (0.5, 0.1), (30.01, 0.3), (120.5, 0.5)]),
        *(("f", size, t) for size, t in [(3, 0.05), (6, 0.05), (30, 0.1), (120, 0.15), (400, 0.2), (1000, 0.3),
                                         (2000, 0.5)]),
        *(("c", size, t) for size, t in [(3, 0.2), (6, 0.3), (30, 0.5), (120, 0.8), (400, 1.2)]),
        *(("v", size, t) for size, t in [(30, 1.0), (120, 1.5), (400, 2.5)]),
    ],
)  # fmt: skip
def test_iso_2768_1_table_1(tolerance_class: str, size: float, tolerance: float) -> None:
    """DIN ISO 2768-1 table 1; upper bounds belong to their range."""
    assert linear_tolerance(size, tolerance_class) == tolerance


@pytest.mark.parametrize(
    ("size", "tolerance_class"),
    [
        pytest.param(0.49, "m", id="below-0.5-state-it-at-the-dimension"),
        pytest.param(2.0, "v", id="v-has-none-up-to-3"),
        pytest.param(2000.1, "f", id="f-has-none-above-2000"),
        pytest.param(4000.1, "m", id="above-the-table"),
        pytest.param(10.0, "k", id="no-such-class"),
    ],
)
def test_where_there_is_no_general_tolerance(size: float, tolerance_class: str) -> None:
    with pytest.raises(NotListedError, match="ISO 2768-1"):
        linear_tolerance(size, tolerance_class)


# ISO 2768-1 tables 2 and 3, from memory; two web pages print table 2 so, and table 3 but for class c over 120 to 400
CHAMFERS = {1.0: (0.2, 0.2, 0.4, 0.4), 3.0: (0.2, 0.2, 0.4, 0.4), 5.0: (0.5, 0.5, 1, 1), 6.0: (0.5, 0.5, 1, 1),
            10.0: (1, 1, 2, 2), 500.0: (1, 1, 2, 2)}  # fmt: skip
ANGLES = {10: (60, 60, 90, 180), 50: (30, 30, 60, 120), 120: (20, 20, 30, 60), 400: (10, 10, 15, 30),
          401: (5, 5, 10, 20)}  # fmt: skip


@pytest.mark.parametrize(("size", "tolerances"), CHAMFERS.items())
def test_chamfers_iso_2768_1_table_2(size: float, tolerances: tuple[float, ...]) -> None:
    assert tuple(edge_tolerance(size, name) for name in CLASSES) == tolerances


@pytest.mark.parametrize(("leg", "minutes"), ANGLES.items())
def test_angles_iso_2768_1_table_3(leg: float, minutes: tuple[float, ...]) -> None:
    assert [60 * angular_tolerance(leg, name) for name in CLASSES] == pytest.approx(minutes)


@given(st.floats(3.01, 2000.0), st.floats(3.01, 2000.0))
def test_larger_sizes_and_coarser_classes_have_no_smaller_tolerance(a: float, b: float) -> None:
    small, large = sorted((a, b))
    for name in CLASSES:
        assert linear_tolerance(small, name) <= linear_tolerance(large, name)
        assert angular_tolerance(small, name) >= angular_tolerance(large, name)
    for fine, coarse in pairwise(CLASSES):
        assert linear_tolerance(a, fine) <= linear_tolerance(a, coarse)
