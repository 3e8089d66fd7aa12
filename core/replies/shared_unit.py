"""A unit said once in a list holds for the whole list: ``45, 45, 50 lb``."""

from collections.abc import Iterator

from core.quantity import Unit
from core.replies import node
from core.replies.dose import Kind, is_primary


def with_shared_units(parts: tuple[node.Part, ...], kind: Kind) -> tuple[node.Part, ...]:
    """The parts, where bare numbers of a list take the one unit that the list names.

    Only a unit of what a bare number of this dose kind means is shared: in
    ``8, 7, 6 +5kg`` the numbers stay repetitions.
    """
    doses = [part for part in parts if isinstance(part, node.Dose)]
    if len(doses) < 2 and (not doses or len(doses[0].products) < 2):
        return parts
    found = list(parts)
    for start, end in _lists(parts):
        products = [p for part in parts[start:end] for p in _products(part)]
        units = {(p[-1].kind, p[-1].unit) for p in products if p[-1].kind != "bare"}
        if len(units) != 1 or len({len(product) for product in products}) != 1:
            continue
        unit = units.pop()
        if is_primary(unit[0], kind):
            for index in range(start, end):
                found[index] = _shared(found[index], unit[0], unit[1])
    return tuple(found)


def _lists(parts: tuple[node.Part, ...]) -> Iterator[tuple[int, int]]:
    """Where doses follow each other with commas between them, two numbers at least."""
    start = 0
    while start < len(parts):
        end = start + 1
        if _is_listed(parts[start]):
            while isinstance(parts[end - 1], node.Joint) or _is_joint(parts, end):
                if end == len(parts) or not (_is_joint(parts, end) or _is_listed(parts[end])):
                    break
                end += 1
            if sum(len(_products(part)) for part in parts[start:end]) > 1:
                yield start, end
        start = end


def _is_joint(parts: tuple[node.Part, ...], place: int) -> bool:
    return place < len(parts) and isinstance(parts[place], node.Joint)


def _is_listed(part: node.Part) -> bool:
    return isinstance(part, node.Dose) and not part.lead


def _products(part: node.Part) -> tuple[tuple[node.Amount, ...], ...]:
    return part.products if isinstance(part, node.Dose) else ()


def _shared(part: node.Part, kind: node.AmountKind, unit: Unit | None) -> node.Part:
    if not isinstance(part, node.Dose):
        return part
    products = tuple(
        (*product[:-1], product[-1]._replace(kind=kind, unit=unit))
        if all(amount.kind == "bare" for amount in product)
        else product
        for product in part.products
    )
    return part._replace(products=products)
