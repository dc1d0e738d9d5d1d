"""A route that comes whole, with its positions, rather than typed point by point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.messages import message
from plotter.places.model import Airport, Place
from plotter.places.store import Store
from plotter.route.values import Caution, Waypoint

THAT_PLACE_NM = 0.5
"""A point of a file this near to the place of its name is that place; positions of one airport
differ by as much between datasets."""
WORTH_A_LOOK_NM = 60.0
"""Beyond this a name shared with a place in the data is taken for chance."""
LONG_WAY_ROUND_NM = 300.0
EXCHANGED_IS_SHORTER = 10.0
"""A point is doubted where the way over it is longer than 300 NM and ten times as long as it would
be with its latitude and longitude exchanged: no detour anybody flies is like that."""

_FILE = "the file's own figures"


@dataclass(frozen=True, slots=True)
class GivenRoute:
    """Waypoints as a file gives them, what was decided in reading it, the route's own name."""

    waypoints: tuple[Waypoint, ...]
    cautions: tuple[Caution, ...] = ()
    name: str = ""


def settled(route: GivenRoute, store: Store) -> GivenRoute:
    """The route with its points known as places where name and position agree with the data.

    Positions stay those of the file. A name that is a place elsewhere, and a point that is likely
    to have latitude and longitude exchanged, get a caution; nothing is put right in silence.
    """
    found: list[Waypoint] = []
    cautions = [*route.cautions, *_exchanged(route.waypoints)]
    doubted = {caution.where for caution in cautions if caution.code == "exchanged"}
    for waypoint in route.waypoints:
        place, caution = _known(waypoint, store)
        found.append(_at(waypoint, place) if place else waypoint)
        if caution and waypoint.name not in doubted:
            cautions.append(caution)
    return replace(route, waypoints=tuple(found), cautions=tuple(cautions))


def _at(waypoint: Waypoint, place: Place) -> Waypoint:
    """The waypoint as an airport or navaid; an elevation the file does not give is the data's."""
    is_airport = isinstance(place, Airport)
    elevation_ft = place.elevation_ft if waypoint.elevation_ft is None else waypoint.elevation_ft
    return replace(
        waypoint,
        kind="airport" if is_airport else "navaid",
        ident=place.codes[0] if isinstance(place, Airport) else place.ident,
        elevation_ft=elevation_ft,
        sources_apart_nm=place.sources_apart_nm if isinstance(place, Airport) else None,
        place=place,
    )


def _known(waypoint: Waypoint, store: Store) -> tuple[Place | None, Caution | None]:
    """The place of the waypoint's name where it stands, or what is odd about its name."""
    places = [match.place for match in store.by_code(waypoint.name.strip().upper())]
    if not places or waypoint.kind != "file":
        return None, None
    nearest = min(places, key=lambda place: distance_nm(place.position, waypoint.position))
    apart_nm = distance_nm(nearest.position, waypoint.position)
    if apart_nm <= THAT_PLACE_NM:
        return nearest, None
    turned = _turned(waypoint.position)
    if turned and any(distance_nm(turned, place.position) <= THAT_PLACE_NM for place in places):
        return None, Caution(
            "STOP", message("exchanged", point=waypoint.name), _FILE, waypoint.name
        )
    if apart_nm > WORTH_A_LOOK_NM:
        return None, None
    apart = message("file-apart", point=waypoint.name, place=nearest.name, apart_nm=apart_nm)
    return None, Caution("CHECK", apart, "OurAirports tables", waypoint.name)


def _exchanged(waypoints: Sequence[Waypoint]) -> Iterator[Caution]:
    """A caution for each point that makes the route jump and would not, were its pair exchanged."""
    for index, waypoint in enumerate(waypoints):
        turned, beside = _turned(waypoint.position), _neighbours(waypoints, index)
        if turned is None:
            continue
        way_nm = sum(distance_nm(waypoint.position, other.position) for other in beside)
        turned_nm = sum(distance_nm(turned, other.position) for other in beside)
        if way_nm > LONG_WAY_ROUND_NM and turned_nm * EXCHANGED_IS_SHORTER < way_nm:
            said = message(
                "exchanged.detour", point=waypoint.name, detour_nm=way_nm, exchanged_nm=turned_nm
            )
            yield Caution("STOP", said, _FILE, waypoint.name)


def _neighbours(waypoints: Sequence[Waypoint], index: int) -> list[Waypoint]:
    """The points before and after; at an end the two next, or a right one would be blamed too."""
    first = min(max(0, index - 1), max(0, len(waypoints) - 3))
    return [each for at, each in enumerate(waypoints[first : first + 3], first) if at != index]


def _turned(where: Position) -> Position | None:
    """The position with latitude and longitude exchanged, where that is one."""
    if abs(where.longitude_deg) > 90.0:
        return None
    return Position(where.longitude_deg, where.latitude_deg)
