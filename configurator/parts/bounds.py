"""What is usual for cores, front exchangers and pumps: limits that a shelf is held against, each with its standing."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import Field

from configurator.foundations.figures import Length, Mass, PressureLoss, Share, Speed, Standing
from configurator.foundations.records import Fault, Number, Record


class _Limits(Record):
    standing: Standing
    source: str


class ShareLimits(_Limits):
    """Least and most of a share."""

    least: Share
    most: Share


class LossLimits(_Limits):
    """Least and most of a pressure loss."""

    least: PressureLoss
    most: PressureLoss


class MassLimits(_Limits):
    """Least and most of a mass."""

    least: Mass
    most: Mass


class NumberLimits(_Limits):
    """Least and most of a bare number, in the unit that its key names."""

    least: Number
    most: Number


class FaceRow(Record):
    """UA per face area at one face speed [kW/K per m2], one figure for each fin depth of the table."""

    face_speed_m_per_s: Speed = Field(alias="face_speed")
    ua_kw_per_k_m2: tuple[Number, ...] = Field(alias="ua_kw_per_k_m2")


class FaceTable(_Limits):
    """Usual UA per face area of front exchangers, by fin depth and face speed."""

    fin_depths_m: tuple[Length, ...] = Field(alias="fin_depths", min_length=2)
    rows: tuple[FaceRow, ...] = Field(min_length=2)

    def faults(self) -> Iterator[Fault]:
        """Depths or speeds that do not rise; a row with a figure too few or too many, or not above 0."""
        if list(self.fin_depths_m) != sorted(set(self.fin_depths_m)):
            yield Fault("the fin depths must rise one after another", ("fin_depths",))
        for index, row in enumerate(self.rows):
            if len(row.ua_kw_per_k_m2) != len(self.fin_depths_m) or min(row.ua_kw_per_k_m2, default=0.0) <= 0:
                text = f"a row has one figure above 0 for each of the {len(self.fin_depths_m)} fin depths"
                yield Fault(text, ("rows", index, "ua_kw_per_k_m2"))
            if index and row.face_speed_m_per_s <= self.rows[index - 1].face_speed_m_per_s:
                yield Fault("the face speeds must rise one after another", ("rows", index, "face_speed"))


class CoreBounds(Record):
    """What is usual for a core at its stated points, and for what its box holds."""

    effectiveness: ShareLimits
    charge_loss: LossLimits
    coolant_loss: LossLimits
    ua_w_per_k_per_box_litre: NumberLimits
    mass_per_box_litre: MassLimits
    filled: ShareLimits


class ExchangerBounds(Record):
    """What is usual for a front exchanger at its stated points, and for what its box holds."""

    effectiveness: ShareLimits
    coolant_loss: LossLimits
    usual_face_ua: FaceTable
    face_ua_over_usual: NumberLimits
    mass_per_box_litre: MassLimits
    filled: ShareLimits


class PumpBounds(Record):
    """What is usual for a coolant pump; its ends are the outside of spigots."""

    working_bar: NumberLimits
    hottest_degc: NumberLimits
    current_a: NumberLimits
    end_mm: NumberLimits
    mass_per_box_litre: MassLimits


class PriceBounds(_Limits):
    """A part larger every way by `larger_by` or more is not cheaper by more than `cheaper_by`."""

    larger_by: Share
    cheaper_by: Share


class Bounds(Record):
    """All limits: cores, exchangers, pumps, how far one surface may lie from measured points, prices."""

    core: CoreBounds
    exchanger: ExchangerBounds
    pump: PumpBounds
    points_disagree: ShareLimits
    price: PriceBounds
