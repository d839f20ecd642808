#!/usr/bin/env python3
"""Proves the optima of layout-optima.json anew: the fewest sheets, then the fewest cuts, of every case.

    pip install ortools highspy
    python3 tests/references/prove_layout_optima.py            proves every case, fails where one differs
    python3 tests/references/prove_layout_optima.py --write    also writes the optimum of cases that have none yet

It shares no code with the product and goes about it in another way. Sheets: a compact model in HiGHS (joints chosen as a
path from eaves to top edge, pieces put into sheets) and, apart from it, every way to fill a sheet in CP-SAT: both must
come to the same. Cuts: CP-SAT over those ways, each with its fewest straight edge-to-edge cuts by a search over all cut
trees. The rules of the game stand in the file's `assumptions`.
"""

import itertools
import json
import sys
from functools import cache
from pathlib import Path

import highspy
from ortools.sat.python import cp_model

FILE = Path(__file__).with_name("layout-optima.json")
VARIANTS = ("fewest_courses", "any_courses")


class Roof:
    """One case: its grid of columns, and the courses that its lines allow."""

    def __init__(self, inputs):
        self.sheet = inputs["sheet_len_mm"]
        self.across, lap = inputs["n_corr"], inputs["side_lap_corr"]
        self.wider, self.spare = inputs["extra_side_lap"], inputs.get("max_extra_lap_mm", 0)
        self.needed = -(-inputs["W_mm"] // inputs["pitch_mm"])
        fits = self.needed <= self.across
        self.columns = 1 if fits else -(-(self.needed - lap) // (self.across - lap))
        self.last = self.needed - (self.columns - 1) * (self.across - lap)
        self.full = self.columns - (self.last < self.across)
        self.lanes = self.across // self.last
        lap_up, least = inputs["end_lap_mm"], inputs["min_piece_mm"]
        lines, top = inputs["purlins_mm"][1:-1], inputs["L_mm"]
        ends = [None, *range(len(lines)), None]

        def course(low, high):
            """From one joint to the next: half a lap beyond each."""
            below = 0 if low is None else lines[low] - lap_up / 2
            above = top if high is None else lines[high] + lap_up / 2
            return above - below

        self.steps = {}
        for low, high in itertools.combinations(range(len(ends)), 2):
            length = course(ends[low], ends[high])
            if least <= length <= self.sheet:
                self.steps[low, high] = (length, high < len(ends) - 1)
        self.end = len(ends) - 1

    def joint_sets(self, fewest):
        """Every way up the slope, as a list of courses: (length, whether its top is under a lap)."""

        def ways(at):
            if at == self.end:
                yield []
            for (low, high), course in self.steps.items():
                if low == at:
                    for rest in ways(high):
                        yield [course, *rest]

        found = list(ways(0))
        least = min(map(len, found))
        return least, [way for way in found if len(way) == least or not fewest]


def compact(roof, fewest_courses):
    """The fewest sheets by the compact model in HiGHS."""
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    whole = highspy.HighsVarType.kInteger
    lengths = sorted({length for length, _ in roof.steps.values()})
    taken = {step: model.addVariable(0, 1, type=whole) for step in roof.steps}
    for node in range(roof.end + 1):
        away = sum(var for (low, _), var in taken.items() if low == node)
        into = sum(var for (_, high), var in taken.items() if high == node)
        if node == 0:
            model.addConstr(away == 1)
        elif node == roof.end:
            model.addConstr(into == 1)
        elif not isinstance(away, int) or not isinstance(into, int):
            model.addConstr(away - into == 0)
    if fewest_courses:
        model.addConstr(sum(taken.values()) <= fewest_courses)
    most_courses = fewest_courses or len({high for _, high in roof.steps})
    sheets = range(most_courses * roof.columns)
    narrow = range(roof.lanes) if roof.full < roof.columns else ()
    used = [model.addVariable(0, 1, obj=1, type=whole) for _ in sheets]
    for one, other in zip(used, used[1:]):
        model.addConstr(one - other >= 0)
    wide = {(s, t): model.addVariable(0, highspy.kHighsInf, type=whole) for s in sheets for t in lengths}
    slim = {
        (s, t, j): model.addVariable(0, highspy.kHighsInf, type=whole) for s in sheets for t in lengths for j in narrow
    }
    for t in lengths:
        courses = sum(var for step, var in taken.items() if roof.steps[step][0] == t)
        model.addConstr(sum(wide[s, t] for s in sheets) - roof.full * courses == 0)
        if narrow:
            model.addConstr(sum(slim[s, t, j] for s in sheets for j in narrow) - courses == 0)
    for s in sheets:
        length = sum(t * wide[s, t] for t in lengths)
        for j in narrow or (None,):
            lane = sum(t * slim[s, t, j] for t in lengths) if narrow else 0
            model.addConstr(length + lane - roof.sheet * used[s] <= 0)
    model.run()
    assert model.getModelStatus() == highspy.HighsModelStatus.kOptimal, model.getModelStatus()
    return round(model.getInfo().objective_function_value)


def fewest_cuts(roof, pieces):
    """The fewest straight cuts that take these pieces out of one sheet, or None where they do not fit."""

    def is_it(piece, wide, long):
        width, length, under_lap = piece
        narrow = width < roof.across
        fits_across = wide == width or (narrow and roof.wider and wide >= width)
        return fits_across and length <= long <= length + (roof.spare if under_lap else 0)

    @cache
    def cuts(wide, long, wanted):
        if not wanted:
            return 0
        if sum(width * length for width, length, _ in wanted) > wide * long:
            return None
        if max(width for width, _, _ in wanted) > wide or max(length for _, length, _ in wanted) > long:
            return None
        if len(wanted) == 1 and is_it(wanted[0], wide, long):
            return 0
        best = None
        sums = {0}
        for _, length, under_lap in wanted:
            most = length + (roof.spare if under_lap else 0)
            sums |= {at + piece for at in sums for piece in {length, most}}
        across = {0}
        for width, _, _ in wanted:
            across |= {at + width for at in across}
        places = [("up", at) for at in {*sums, *(long - at for at in sums)} if 0 < at < long]
        places += [("over", at) for at in {*across, *(wide - at for at in across)} if 0 < at < wide]
        groups = {
            (part, tuple(sorted(rest)))
            for size in range(len(wanted) + 1)
            for part in set(itertools.combinations(wanted, size))
            for rest in [take(wanted, part)]
        }
        for way, at in places:
            for part, rest in groups:
                if way == "up":
                    one, other = cuts(wide, at, part), cuts(wide, long - at, rest)
                else:
                    one, other = cuts(at, long, part), cuts(wide - at, long, rest)
                if one is not None and other is not None and (best is None or 1 + one + other < best):
                    best = 1 + one + other
        return best

    return cuts(roof.across, roof.sheet, tuple(sorted(pieces)))


def take(wanted, part):
    rest = list(wanted)
    for piece in part:
        rest.remove(piece)
    return rest


def fillings(roof, courses):
    """Every way to fill one sheet with pieces of these courses, each with its fewest cuts; and what is wanted of each."""
    wanted = {}
    for length, under_lap in courses:
        if roof.full:
            key = (roof.across, length, under_lap)
            wanted[key] = wanted.get(key, 0) + roof.full
        if roof.full < roof.columns:
            key = (roof.last, length, under_lap)
            wanted[key] = wanted.get(key, 0) + 1
    kinds = sorted(wanted)
    area = roof.across * roof.sheet
    counts = [range(min(wanted[kind], int(area // (kind[0] * kind[1]))) + 1) for kind in kinds]
    found = []
    for taken in itertools.product(*counts):
        pieces = [kind for kind, count in zip(kinds, taken) for _ in range(count)]
        if pieces and sum(width * length for width, length, _ in pieces) <= area:
            full = sum(length for width, length, _ in pieces if width == roof.across)
            if full <= roof.sheet and (cost := fewest_cuts(roof, pieces)) is not None:
                found.append((taken, cost))
    return [wanted[kind] for kind in kinds], found


def by_fillings(roof, joint_sets, sheets):
    """The fewest sheets over all sets of joints, and with those the fewest cuts, by CP-SAT."""
    best = None
    for courses in joint_sets:
        wanted, ways = fillings(roof, courses)
        ceiling = sheets if best is None else best[0]

        def solve(fixed):
            model = cp_model.CpModel()
            times = [model.new_int_var(0, ceiling, "") for _ in ways]
            for kind, count in enumerate(wanted):
                model.add(sum(way[0][kind] * var for way, var in zip(ways, times)) == count)
            if fixed is None:
                model.minimize(sum(times))
            else:
                model.add(sum(times) == fixed)
                model.minimize(sum(way[1] * var for way, var in zip(ways, times)))
            solver = cp_model.CpSolver()
            status = solver.solve(model)
            assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE), solver.status_name(status)
            return round(solver.objective_value) if status == cp_model.OPTIMAL else None

        fewest = solve(None)
        if fewest is not None and (best is None or fewest <= best[0]):
            found = (fewest, solve(fewest))
            best = found if best is None else min(best, found)
    return best


def prove(case, variant):
    roof = Roof(case["inputs"])
    least, joint_sets = roof.joint_sets(variant == "fewest_courses")
    sheets = compact(roof, least if variant == "fewest_courses" else None)
    # Two sets of joints with the same courses are one.
    once = sorted({tuple(sorted(way)) for way in joint_sets})
    found = by_fillings(roof, once, roof.columns * max(map(len, once)))
    assert found and found[0] == sheets, f"{case['id']} {variant}: {found} by fillings, {sheets} by the compact model"
    case.setdefault("min_courses", least)
    case.setdefault("columns", roof.columns)
    case.setdefault("last_column_corrugations", roof.last)
    assert (case["min_courses"], case["columns"], case["last_column_corrugations"]) == (least, roof.columns, roof.last)
    return {"sheets": found[0], "cuts": found[1]}


def main():
    write = "--write" in sys.argv[1:]
    only = [arg for arg in sys.argv[1:] if not arg.startswith("--")]
    file = json.loads(FILE.read_text())
    wrong = 0
    for case in file["cases"]:
        if only and case["id"] not in only:
            continue
        recorded = case.setdefault("optimum", {})
        for variant in VARIANTS if recorded else VARIANTS[:1]:
            if recorded and variant not in recorded:
                continue
            proven = prove(case, variant)
            if write and variant not in recorded:
                recorded[variant] = proven
            right = recorded.get(variant) == proven
            wrong += not right
            print(case["id"], variant, proven, "proven" if right else f"DIFFERS from {recorded.get(variant)}", flush=True)
    if write:
        FILE.write_text(json.dumps(file, indent=1) + "\n")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
