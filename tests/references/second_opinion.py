"""The same beams and winds by libraries that others wrote.

    python3 -m venv /tmp/opinion
    /tmp/opinion/bin/pip install PyNiteFEA==3.2.0 anastruct==1.7.0 eurocodepy==2026.1.1 setuptools
    /tmp/opinion/bin/python tests/references/second_opinion.py > tests/references/second-opinion.json

Beams by finite elements: PyNite's values are written, and only where anastruct's agree. Wind by eurocodepy. Every run
writes the same.
"""

import json
import math

from anastruct import SystemElements
from eurocodepy.ec1.wind import pressure
from Pynite import FEModel3D

SECTIONS = [(47, 75), (38, 63), (47, 100), (50, 150), (75, 200)]
MODULI = [8000, 11000]
# Spans in metres, line loads in kN/m for each, loads at places: (span, from its left end in metres, kN).
BEAMS = [
    ([1.2], [0.5], []),
    ([2.4], [1.5], []),
    ([3.6], [0.9], []),
    ([1.2], [0.05], [(0, 0.6, 1.0)]),
    ([1.5], [0.1], [(0, 0.5, 1.0)]),
    ([2.0], [0.0], [(0, 0.3, 1.0), (0, 1.7, 1.0)]),
    ([4.5], [1.4625], []),
    ([0.9, 0.9], [1.5, 1.5], []),
    ([1.2, 1.2], [1.0, 0.0], []),
    ([1.0, 1.4], [1.2, 1.2], []),
    ([0.6, 1.5], [0.8, 0.8], []),
    ([1.2, 1.2], [0.1, 0.1], [(0, 0.52, 1.0)]),
    ([1.2, 1.2], [0.1, 0.1], [(1, 0.6, 1.0)]),
    ([2.0, 3.0], [0.6, 1.1], [(0, 1.0, 0.4), (1, 2.2, 0.7)]),
    ([1.5, 1.5], [-0.7, -0.7], []),
    ([0.9, 0.9, 0.9], [1.5, 1.5, 1.5], []),
    ([0.6, 0.6, 0.6], [2.1, 2.1, 2.1], []),
    ([1.2, 1.2, 1.2], [1.0, 0.0, 1.0], []),
    ([1.2, 1.2, 1.2], [0.0, 1.0, 0.0], []),
    ([1.0, 1.5, 0.8], [0.9, 0.9, 0.9], []),
    ([1.2, 1.2, 1.2], [0.1, 0.1, 0.1], [(0, 0.5, 1.0)]),
    ([1.2, 1.2, 1.2], [0.1, 0.1, 0.1], [(1, 0.6, 1.0)]),
    ([0.4, 2.0, 0.4], [1.0, 1.0, 1.0], []),
    ([1.8, 1.8, 1.8], [-1.1, -1.1, -0.6], [(2, 0.9, 0.3)]),
    ([0.6, 0.6, 0.6, 0.6], [1.5, 1.5, 1.5, 1.5], []),
    ([1.2, 1.2, 1.2, 1.2], [0.8, 0.8, 0.8, 0.8], []),
    ([1.2, 1.2, 1.2, 1.2], [1.0, 1.0, 0.0, 1.0], []),
    ([1.0, 1.3, 0.9, 1.6], [0.7, 0.7, 0.7, 0.7], []),
    ([1.2, 1.2, 1.2, 1.2], [0.1, 0.1, 0.1, 0.1], [(0, 0.5, 1.0)]),
    ([1.2, 1.2, 1.2, 1.2], [0.1, 0.1, 0.1, 0.1], [(2, 0.6, 1.0)]),
    ([2.4, 2.4, 2.4, 2.4], [0.5, 1.5, 0.5, 1.5], [(3, 1.2, 1.0)]),
    ([1.5, 1.5, 1.5, 1.5], [-0.9, -0.9, -0.9, -0.9], []),
]
WINDS = [
    (terrain, height, speed, orography)
    for terrain, height, speed in [
        ("0", 2.0, 26.0),
        ("0", 4.5, 28.0),
        ("0", 12.0, 22.5),
        ("I", 0.8, 24.0),
        ("I", 2.2, 25.0),
        ("I", 6.0, 30.0),
        ("II", 1.2, 24.0),
        ("II", 2.0, 22.0),
        ("II", 2.6, 26.0),
        ("II", 3.4, 21.5),
        ("II", 5.5, 27.0),
        ("II", 9.0, 23.5),
        ("III", 2.4, 24.0),
        ("III", 5.0, 25.0),
        ("III", 5.1, 25.0),
        ("III", 8.0, 26.0),
        ("III", 14.0, 22.0),
        ("IV", 3.0, 26.0),
        ("IV", 10.0, 24.0),
        ("IV", 16.0, 28.0),
        ("III", 20.0, 24.0),
        ("II", 15.0, 25.0),
    ]
    for orography in ((1.0, 1.3) if terrain in ("I", "II") else (1.0,))
]
TERRAINS = {"0": (0.003, 1.0), "I": (0.01, 1.0), "II": (0.05, 2.0), "III": (0.3, 5.0), "IV": (1.0, 10.0)}


def by_pynite(spans, lines, points, modulus, inertia):
    """Moments in N·m, forces in N, deflection in mm: extremes and reactions."""
    model = FEModel3D()
    model.add_material("wood", modulus * 1e6, 0.69e9, 0.3, 350)
    model.add_section("section", 0.01, 1e-6, inertia, 1e-6)
    at = 0.0
    model.add_node("N0", 0, 0, 0)
    for number, span in enumerate(spans):
        at += span
        model.add_node(f"N{number + 1}", at, 0, 0)
        model.add_member(f"M{number}", f"N{number}", f"N{number + 1}", "wood", "section")
        model.add_member_dist_load(f"M{number}", "Fy", -lines[number] * 1e3, -lines[number] * 1e3)
    for number in range(len(spans) + 1):
        model.def_support(f"N{number}", number == 0, True, True, True, False, False)
    for span, place, force in points:
        model.add_member_pt_load(f"M{span}", "Fy", -force * 1e3, place)
    model.analyze(check_statics=False)
    members = [model.members[f"M{number}"] for number in range(len(spans))]
    moments = [value for member in members for value in (member.max_moment("Mz"), member.min_moment("Mz"))]
    # PyNite's moment is positive where the top is pulled, by the sign of its axes.
    shears = [abs(value) for member in members for value in (member.max_shear("Fy"), member.min_shear("Fy"))]
    deep = [abs(value) for member in members for value in (member.max_deflection("dy"), member.min_deflection("dy"))]
    return {
        "moments": sorted((max(moments), -min(moments))),
        "shear": max(shears),
        "reactions": [model.nodes[f"N{number}"].RxnFY["Combo 1"] for number in range(len(spans) + 1)],
        "deflection": max(deep) * 1e3,
    }


def by_anastruct(spans, lines, points, modulus, inertia):
    """The larger moment of either sign, and the reactions."""
    system = SystemElements(EI=modulus * 1e6 * inertia, EA=1e9, mesh=100)
    elements, supports, at = [], [1], 0.0
    for number, span in enumerate(spans):
        cuts = sorted({0.0, span, *(place for s, place, _ in points if s == number)})
        for before, after in zip(cuts, cuts[1:]):
            system.add_element(location=[[at + before, 0], [at + after, 0]])
            elements.append((number, len(elements) + 1))
        at += span
        supports.append(system.find_node_id([at, 0]))
    for number, element in elements:
        if lines[number]:
            system.q_load(q=-lines[number] * 1e3, element_id=element)
    for span, place, force in points:
        system.point_load(node_id=system.find_node_id([sum(spans[:span]) + place, 0]), Fy=-force * 1e3)
    system.add_support_hinged(node_id=supports[0])
    for node in supports[1:]:
        system.add_support_roll(node_id=node)
    system.solve()
    moments = [abs(value) for row in system.get_element_results() for value in (row["Mmax"], row["Mmin"])]
    return max(moments), [system.reaction_forces[node].Fy for node in supports]


def beams():
    for number, (spans, lines, points) in enumerate(BEAMS):
        width, depth = SECTIONS[number % len(SECTIONS)]
        modulus = MODULI[number % len(MODULI)]
        inertia = width * depth**3 / 12 * 1e-12
        found = by_pynite(spans, lines, points, modulus, inertia)
        moment, reactions = by_anastruct(spans, lines, points, modulus, inertia)
        assert math.isclose(moment, found["moments"][1], rel_tol=5e-3), (number, moment, found)
        for one, other in zip(reactions, found["reactions"]):
            assert math.isclose(abs(one), abs(other), rel_tol=5e-3, abs_tol=1.0), (number, reactions, found)
        yield {
            "id": f"BEAM-{number + 1:02}",
            "spans_m": spans,
            "lines_kn_m": lines,
            "points_span_m_kn": points,
            "width_mm": width,
            "depth_mm": depth,
            "modulus_n_mm2": modulus,
            "expected": {
                "moments_nm": [round(value, 3) for value in found["moments"]],
                "shear_n": round(found["shear"], 3),
                "reactions_n": [round(value, 3) for value in found["reactions"]],
                "deflection_mm": round(found["deflection"], 5),
            },
        }


def winds():
    for number, (terrain, height, speed, orography) in enumerate(WINDS):
        rough, least = TERRAINS[terrain]
        cr = pressure.c_r(height, least, rough, 0.05)
        iv = pressure.I_v(height, least, rough, orography)
        qp = pressure.q_p(height, speed, least, rough, cr, orography)
        yield {
            "id": f"GUST-{number + 1:02}",
            "terrain": terrain,
            "height_m": height,
            "basic_m_s": speed,
            "orography": orography,
            "expected": {"cr": round(cr, 6), "iv": round(iv, 6), "qp_n_m2": round(qp, 4)},
        }


if __name__ == "__main__":
    opinion = {
        "from": "PyNiteFEA 3.2.0 and anastruct 1.7.0 (beams), eurocodepy 2026.1.1 (wind)",
        "beams": list(beams()),
        "winds": list(winds()),
    }
    print(json.dumps(opinion, indent=1))
