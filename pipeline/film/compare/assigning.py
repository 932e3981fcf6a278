"""The assignment of least cost, one to one.

Our own, for scipy's costs more to import than all the rest takes: groups here hold a handful of things ("salt" said
three times, two lines of salt), and this is O(n² m).
"""

from __future__ import annotations

from collections.abc import Sequence

_INFINITE = float("inf")


def assign(costs: Sequence[Sequence[float]]) -> list[int | None]:
    """For each row the column that it gets, None for rows that are left over.

    ``costs`` is a table of rows by columns. Each column is given once; the sum of costs is the least possible. The
    Hungarian method with potentials (Kuhn 1955, Munkres 1957), by shortest augmenting paths.
    """
    if not costs or not costs[0]:
        return [None] * len(costs)
    rows, columns = len(costs), len(costs[0])
    if rows > columns:
        turned = assign([[costs[r][c] for r in range(rows)] for c in range(columns)])
        result: list[int | None] = [None] * rows
        for column, row in enumerate(turned):
            if row is not None:
                result[row] = column
        return result
    u, v = [0.0] * (rows + 1), [0.0] * (columns + 1)
    owner = [0] * (columns + 1)  # the row that holds a column; 0 for none, rows count from 1
    way = [0] * (columns + 1)
    for row in range(1, rows + 1):
        owner[0] = row
        column = 0
        least, used = [_INFINITE] * (columns + 1), [False] * (columns + 1)
        while owner[column]:
            used[column] = True
            here, delta, following = owner[column], _INFINITE, 0
            for c in range(1, columns + 1):
                if used[c]:
                    continue
                cost = costs[here - 1][c - 1] - u[here] - v[c]
                if cost < least[c]:
                    least[c], way[c] = cost, column
                if least[c] < delta:
                    delta, following = least[c], c
            for c in range(columns + 1):
                if used[c]:
                    u[owner[c]] += delta
                    v[c] -= delta
                else:
                    least[c] -= delta
            column = following
        while column:
            owner[column], column = owner[way[column]], way[column]
    result = [None] * rows
    for c in range(1, columns + 1):
        if owner[c]:
            result[owner[c] - 1] = c - 1
    return result
