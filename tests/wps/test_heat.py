"""Arc energy and heat input from the corners of a run's ranges."""

from decimal import Decimal as D

import pytest

from codes.values import Interval
from wps.heat import ARC_ENERGY, Range, arc_energy, efficiency, heat_interval

# Worked figures that public handbooks print: amps, volts, mm/min, kJ/mm without k.
PRINTED = [("300", "20", "150", "2.4"), ("260", "28", "420", "1.04"), ("600", "30", "500", "2.16")]


@pytest.mark.parametrize(("current", "voltage", "speed", "energy"), PRINTED)
def test_arc_energy(current: str, voltage: str, speed: str, energy: str) -> None:
    assert arc_energy(D(current), D(voltage), D(speed)) == D(energy)


def test_no_speed_has_no_arc_energy() -> None:
    with pytest.raises(ValueError, match="above 0"):
        arc_energy(D(100), D(20), D(0))


@pytest.mark.parametrize(("process", "k"), [("121", "1.0"), ("135", "0.8"), ("111", "0.8"), ("141", "0.6")])
def test_efficiency(process: str, k: str) -> None:
    assert efficiency(process) == D(k)


def _range(lo: str, hi: str) -> Range:
    return Range(D(lo), D(hi))


def test_corners_of_a_run() -> None:
    """Least: 200 A, 24 V, 400 mm/min; greatest: 250 A, 28 V, 300 mm/min."""
    args = _range("200", "250"), _range("24", "28"), _range("300", "400")
    assert heat_interval("135", *args) == Interval(D("0.576"), D("1.12"), "kJ/mm")
    assert heat_interval("135", *args, measure=ARC_ENERGY) == Interval(D("0.72"), D("1.4"), "kJ/mm")


def test_rounding_widens_the_range() -> None:
    """0.8 x 100 x 20 x 60 / (700 x 1000) = 0.137142... and no end may be rounded inwards."""
    found = heat_interval("135", _range("100", "100"), _range("20", "20"), _range("700", "700"))
    assert found == Interval(D("0.137"), D("0.138"), "kJ/mm")


@pytest.mark.parametrize("missing", [0, 1, 2])
def test_a_missing_parameter_gives_no_heat(missing: int) -> None:
    ranges = [_range("200", "250"), _range("24", "28"), _range("300", "400")]
    ranges[missing] = Range(ranges[missing].lo, None)
    assert heat_interval("135", *ranges) is None


def test_a_process_without_a_factor_gives_no_heat_input() -> None:
    args = _range("200", "250"), _range("24", "28"), _range("300", "400")
    assert heat_interval("311", *args) is None


@pytest.mark.parametrize("process", ["111", "121", "135", "136", "138", "141", "15"])
def test_a_run_has_the_heat_of_the_calculation_page(process: str) -> None:
    """One formula serves the procedure and the page."""
    from codes.calc.registry import calculate

    inputs = {"voltage": ["24", "28"], "current": ["200", "250"], "travel_speed": ["300", "400"], "process": process}
    found = calculate("heat_input_window", inputs)
    own = heat_interval(process, _range("200", "250"), _range("24", "28"), _range("300", "400"))
    assert own is not None
    assert own.lo is not None
    assert own.hi is not None
    assert 0 <= found.number("least") - own.lo < D("0.001")
    assert 0 <= own.hi - found.figure < D("0.001")


@pytest.mark.parametrize("wrong", [("0", "0"), ("400", "300"), ("-1", "400")])
def test_figures_of_no_use_give_no_heat(wrong: tuple[str, str]) -> None:
    assert heat_interval("135", _range("200", "250"), _range("24", "28"), _range(*wrong)) is None
