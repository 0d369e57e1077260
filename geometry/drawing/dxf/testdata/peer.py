"""Writes a DXF file with random curves, and beside it how long each is and how far it reaches by ezdxf.

python3 peer.py SEED RELEASE FORMAT FILE: each entity lies on a layer of its own, L0 and so on; FILE.json holds
[length, x0, y0, x1, y1] of each as seen from above. ezdxf gives the points of the curves, and the matrices of its
inserts place them one by one.
"""
import json
import math
import random
import sys

import ezdxf
from ezdxf.math import Vec3

SAGITTA = 2e-4  # of arcs
seed, release, form, name = sys.argv[1:]
rnd = random.Random(int(seed))
u, choice = rnd.uniform, rnd.choice


def extrusion():
    return choice([(0, 0, 1)] * 5 + [(0, 0, -1)] * 3 + [(u(-1, 1), u(-1, 1), u(0.2, 1)), (0.015, 0, 1), (0.016, 0, 1), (-0.3, 0.2, -1)])


def points(n):
    return [(u(-100, 100), u(-100, 100), 0) for _ in range(n)]


def add_ellipse(to, layer):
    normal = Vec3(extrusion()).normalize()
    v = Vec3(u(-1, 1), u(-1, 1), u(-1, 1))
    major = (v - normal * v.dot(normal)).normalize(u(2, 80))
    start = u(-7, 7)
    end = choice([start + u(0.1, 6.2), start - u(0.1, 6.2), start + 4 * math.pi + u(0.1, 6.2)])
    if choice([0, 0, 1]):
        start, end = 0, 2 * math.pi
    to.add_ellipse(points(1)[0], major, choice([u(0.05, 1), 1]), start, end, dxfattribs={"layer": layer, "extrusion": normal})


def add_polyline(to, layer):
    corners = [(x, y, choice([0, 0, u(-1, 1), u(-3, 3), 1, -1])) for x, y, _ in points(rnd.randint(2, 7))]
    attributes = {"layer": layer, "extrusion": extrusion()}
    add = to.add_polyline2d if release == "R12" or rnd.random() < 0.3 else to.add_lwpolyline
    add(corners, format="xyb", close=rnd.random() < 0.5, dxfattribs=attributes)


def add_spline(to, layer):
    n, degree = rnd.randint(4, 9), choice([2, 3])
    weights = [u(0.3, 4) for _ in range(n)]
    spline = to.add_spline(dxfattribs={"layer": layer})
    kind = rnd.randrange(4)
    if kind == 0:
        spline.set_open_uniform(points(n), degree=degree)
    elif kind == 1:
        spline.set_open_rational(points(n), weights, degree=degree)
    elif kind == 2:
        spline.set_closed(points(n), degree=degree)
    else:
        spline.set_closed_rational(points(n), weights, degree=degree)


def add_arc(to, layer):
    start, end = choice([(u(-400, 400), u(-400, 400)), (45 * rnd.randint(-8, 0), 45 * rnd.randint(1, 8) - 10)])
    to.add_arc(points(1)[0], u(0.5, 80), start, end, dxfattribs={"layer": layer, "extrusion": extrusion()})


def add_circle(to, layer):
    to.add_circle(points(1)[0], u(0.5, 80), dxfattribs={"layer": layer, "extrusion": extrusion()})


def add_insert(to, layer, blocks):
    size = {"xscale": choice([1, -1]) * u(0.3, 2), "yscale": choice([1, -1]) * u(0.3, 2)}
    turn = {"rotation": choice([0, 90, u(-360, 360)]), "extrusion": extrusion()}
    array = {"row_count": rnd.randint(1, 3), "column_count": rnd.randint(1, 3), "row_spacing": u(-50, 50), "column_spacing": u(-50, 50)}
    attributes = {"layer": layer} | choice([{}, size]) | choice([{}, turn]) | choice([{}, array])
    to.add_blockref(choice(blocks), points(1)[0], dxfattribs=attributes)


KINDS = [add_arc, add_circle, add_polyline] + ([] if release == "R12" else [add_ellipse, add_polyline, add_spline])


def flat(e):
    kind = e.dxftype()
    if kind == "LINE":
        return [[Vec3(e.dxf.start), Vec3(e.dxf.end)]]
    if kind in ("LWPOLYLINE", "POLYLINE"):
        return [run for part in e.virtual_entities() for run in flat(part)]
    if kind == "ELLIPSE":
        return [list(e.vertices(e.params(3000)))]
    if kind == "SPLINE":
        return [list(e.construction_tool().approximate(4000))]
    if kind in ("ARC", "CIRCLE"):
        return [list(e.flattening(SAGITTA))]
    runs = []
    for one in e.multi_insert() if e.mcount > 1 else [e]:
        m = one.matrix44()
        for part in e.doc.blocks.get(e.dxf.name):
            runs += [list(m.transform_vertices(run)) for run in flat(part)]
    return runs


doc = ezdxf.new(release)
doc.header["$INSUNITS"] = 4
blocks = []
for i in range(8):
    block = doc.blocks.new("B%d" % i, base_point=points(1)[0])
    choice(KINDS)(block, "0")
    if i % 2:
        add_insert(block, "0", blocks[-1:])
    blocks.append(block.name)
space = doc.modelspace()
for i in range(80):
    if rnd.random() < 0.3:
        add_insert(space, "L%d" % i, blocks)
    else:
        choice(KINDS)(space, "L%d" % i)
doc.saveas(name, fmt=form)

want = {}
for e in ezdxf.readfile(name).modelspace():
    runs = [[(p.x, p.y) for p in run] for run in flat(e)]
    xs, ys = [p[0] for run in runs for p in run], [p[1] for run in runs for p in run]
    length = sum(math.dist(a, b) for run in runs for a, b in zip(run, run[1:]))
    want[e.dxf.layer] = [length, min(xs), min(ys), max(xs), max(ys)]
with open(name + ".json", "w") as f:
    json.dump(want, f)
