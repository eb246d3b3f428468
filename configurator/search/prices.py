"""What parts, joints, wiring and fill of one job's kits cost, and what wiring weighs: each sum is made once."""

from __future__ import annotations

from configurator.parts.kinds import Fan, Pump
from configurator.parts.kit import Joint
from configurator.search.bill import coolant_lines, joint_lines, wiring_lines
from configurator.search.job import Job


class Prices:
    """Sums in cents and grams: kits share parts, runs and pumps by the thousand."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._parts: dict[str, int] = {}
        self._joints: dict[tuple[int, ...], tuple[int, tuple[Joint, ...]]] = {}
        self._wiring: dict[str, int] = {}
        self._wiring_g: dict[str, int] = {}

    def part(self, part_id: str) -> int:
        """A part of the kit; the customer's own cost nothing."""
        if part_id not in self._parts:
            own = self._job.is_own(part_id)
            self._parts[part_id] = 0 if own else self._job.catalogue[part_id].price_cents
        return self._parts[part_id]

    def joints(self, joints: tuple[Joint, ...]) -> int:
        """All joints of a kit together: hose of one kind is bought in one length."""
        key = tuple(id(joint) for joint in joints)
        if key not in self._joints:
            # The joints are kept beside the sum so that their identities stay theirs.
            lines = joint_lines(joints, lambda part_id: self._job.catalogue[part_id].price_cents)
            self._joints[key] = (sum(line.price_cents for line in lines), joints)
        return self._joints[key][0]

    def wiring(self, motor: Pump | Fan) -> int:
        """Relay, fuse and wire of a pump or a fan."""
        if motor.id not in self._wiring:
            self._wiring[motor.id] = sum(line.price_cents for line in wiring_lines(motor, self._job.serving))
        return self._wiring[motor.id]

    def wiring_g(self, motor: Pump | Fan) -> int:
        """What relay, fuse and wire of a pump or a fan weigh [g]."""
        if motor.id not in self._wiring_g:
            lines = wiring_lines(motor, self._job.serving)
            shelf = self._job.catalogue
            self._wiring_g[motor.id] = round(sum(shelf[one.part].mass_g * one.quantity for one in lines if one.part))
        return self._wiring_g[motor.id]

    def coolant(self, litres: float) -> int:
        """The fill."""
        lines = coolant_lines(self._job.conditions.coolant, litres, self._job.tables.coolants)
        return sum(line.price_cents for line in lines)
