"""Small parts made for the tests of joints."""

from __future__ import annotations

from typing import Any

from configurator.parts.end_text import ToldEnd, read_end
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Hose


def end(text: str, name: str = "end") -> End:
    """An end from a line: `orb -12 female`, `spigot 19 barb`, `neck 45 male`, `spigot 57 bead bore=54`."""
    form, size, *rest = text.split()
    written: dict[str, Any] = {"name": name, "form": form, "size": size}
    if form in {"hose", "spigot", "coupler", "neck"}:
        written["size"] = f"{size} mm"
    for word in rest:
        if word in {"male", "female"}:
            written["sex"] = word
        elif word.startswith("bore="):
            written["bore"] = f"{word[5:]} mm"
        else:
            written[word] = True
    return End.model_validate(written)


def told(text: str) -> End:
    """An end as the command line is told it: `orb:-12:female`, `spigot:19mm:barb`."""
    read = read_end(text)
    assert isinstance(read, ToldEnd), read
    return read.end


def adapter(part_id: str, a: str, b: str, *, bore: float | None = None, **more: Any) -> Adapter:
    """An adapter between two ends; `working` in bar, `hottest` in degC."""
    through: dict[str, Any] = {"ends": [end(a, "a").model_dump(by_alias=True), end(b, "b").model_dump(by_alias=True)]}
    for written in through["ends"]:
        for key in [key for key, value in written.items() if value is None]:
            del written[key]
    if bore is not None:
        through["bore"] = f"{bore} mm"
    working = more.pop("working", 10)
    through["working"] = "unknown" if working is None else f"{working} bar"
    through["hottest"] = f"{more.pop('hottest', 175)} degC"
    record = {
        "id": part_id,
        "name": part_id,
        "price": 10,
        "shape": "adapter",
        "medium": "coolant",
        "length": "50 mm",
        "through": through,
        **more,
    }
    return Adapter.model_validate(record)


def hose(part_id: str, bore: float, *, wall: float = 4, working: float | None = 3, **more: Any) -> Hose:
    """Coolant hose of a bore and wall in mm; `working` in bar, `hottest` in degC."""
    record = {
        "id": part_id,
        "name": part_id,
        "price": 8,
        "mass": "300 g",
        "bore": f"{bore} mm",
        "wall": f"{wall} mm",
        "class": "D-1 EPDM",
        "hottest": f"{more.pop('hottest', 125)} degC",
        "coldest": "-40 degC",
        "media": ["coolant"],
        "bend_radius": "100 mm",
        **more,
    }
    if working is not None:
        record["working"] = f"{working} bar"
    return Hose.model_validate(record)


def clamp(part_id: str, least: float, most: float, *, price: float = 2, style: str = "worm") -> Clamp:
    """A clamp for outside diameters in mm: T-bolt clamps are for charge air, the others for coolant."""
    media = ["charge"] if style == "T-bolt" else ["coolant"]
    record = {
        "id": part_id,
        "name": part_id,
        "price": price,
        "mass": "20 g",
        "style": style,
        "least": f"{least} mm",
        "most": f"{most} mm",
        "media": media,
    }
    return Clamp.model_validate(record)
