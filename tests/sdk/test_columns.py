"""Columns and tables: as lists, as NumPy arrays, as data frames."""

import msgspec
import numpy as np
import pytest

import upstroke

TABLE = upstroke.DepthTable(
    static_water_level=upstroke.Series(unit="ft", values=(30.0, 60.0)),
    fitting=upstroke.Series(unit="1", values=(4.0, 2.0)),
    best=("slim", ""),
    hand_force=upstroke.Series(unit="lbf", values=(18.0, 0.0)),
    time=upstroke.Series(unit="min", values=(12.0, 0.0)),
)


def test_a_column_converts_its_unit() -> None:
    metres = TABLE.static_water_level.to("metres")

    assert metres.unit == "m"
    assert metres.to_list() == pytest.approx([9.144, 18.288])
    assert len(metres) == 2
    with pytest.raises(ValueError, match="lbf is a unit of force"):
        TABLE.hand_force.to("psi")


def test_a_table_gives_its_columns_with_units_in_their_headings() -> None:
    columns = TABLE.to_lists()

    assert len(TABLE) == 2
    assert columns == {
        "static_water_level [ft]": [30.0, 60.0],
        "fitting": [4.0, 2.0],
        "best": ["slim", ""],
        "hand_force [lbf]": [18.0, 0.0],
        "time [min]": [12.0, 0.0],
    }


def test_arrays_hold_floats_or_words() -> None:
    arrays = TABLE.to_numpy()

    assert arrays["time [min]"].dtype == np.float64
    assert arrays["best"].tolist() == ["slim", ""]
    assert {name: array.tolist() for name, array in arrays.items()} == TABLE.to_lists()


def test_a_data_frame_has_a_row_for_each_point() -> None:
    pytest.importorskip("pandas", reason="pandas is not installed")
    frame = TABLE.to_pandas()

    assert frame.shape == (2, 5)
    assert frame.loc[1, "static_water_level [ft]"] == 60.0
    assert frame["time [min]"].dtype == np.float64


@pytest.mark.parametrize("name", ["FillColumns", "SessionColumns", "TankColumns", "DepthTable"])
def test_every_table_of_an_answer_is_one(name: str) -> None:
    kind = getattr(upstroke, name)

    assert hasattr(kind, "to_pandas")
    assert all(field.type in {upstroke.Series, tuple[str, ...]} for field in msgspec.structs.fields(kind))
