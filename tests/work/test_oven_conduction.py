"""Heat conduction in the solver against series solutions and textbook cases."""

import math

import numpy as np
import pytest
from scipy import optimize, special

from bakelab.oven.material import plain_material
from bakelab.oven.mesh import Mesh, box, cylinder, slab, sphere
from bakelab.oven.solver import Run, simulate
from bakelab.oven.stepping import LegendreSteps, stages_for
from bakelab.oven.surroundings import bath
from tests.work.exact_series import (
    bessel,
    brick_centre,
    cylinder_left,
    slab_eigenvalues,
    slab_left,
    sphere_left,
)

FIXED = 1e9  # W/(m2 K): as good as a surface at the temperature outside


def cool(
    mesh: Mesh,
    *,
    coefficient: float,
    conductivity: float,
    diffusivity: float,
    seconds: float,
    start_c: float = 1.0,
    air_c: float = 0.0,
    steps: int = 100,
) -> Run:
    density = 1000.0
    material = plain_material(
        conductivity=conductivity,
        density=density,
        heat=conductivity / diffusivity / density,
        lanes=mesh.lanes,
    )
    sides = tuple({o.side for o in mesh.outsides})
    return simulate(
        mesh,
        material,
        bath(np.full(mesh.lanes, air_c), coefficient, sides),
        start_c=np.full(mesh.lanes, start_c),
        until_s=seconds,
        step_s=seconds / steps,
        warming=air_c > start_c,
    )


@pytest.mark.parametrize(
    ("biot", "root", "weight"),
    [
        (0.1, 0.3111, 1.0161),
        (0.5, 0.6533, 1.0701),
        (1, 0.8603, 1.1191),
        (2, 1.0769, 1.1785),
        (5, 1.3138, 1.2402),
        (10, 1.4289, 1.2620),
        (100, 1.5552, 1.2731),
    ],
)
def test_slab_roots_of_the_printed_tables(biot, root, weight):
    """One-term table of the plane wall, as in every text on heat transfer."""
    z = slab_eigenvalues(biot)[0]
    assert z == pytest.approx(root, abs=6e-5)
    first = 4 * math.sin(z) / (2 * z + math.sin(2 * z))
    assert first == pytest.approx(weight, abs=6e-5)


@pytest.mark.parametrize(
    ("biot", "fourier", "left"),
    [
        (1, 1, 0.533859),
        (1, 0.2, 0.950642),
        (5, 0.5, 0.523109),
        (math.inf, 0.2, 0.772312),
    ],
)
def test_slab_series(biot, fourier, left):
    """Sixty terms, computed once with another program."""
    assert slab_left(biot, fourier) == pytest.approx(left, abs=6e-7)


def test_bessel_functions_as_in_scipy():
    for x in (0.1, 1.0, 5.0, 40.0, 180.0):
        assert bessel(0, x) == pytest.approx(special.j0(x), abs=1e-13)
        assert bessel(1, x) == pytest.approx(special.j1(x), abs=1e-13)


@pytest.mark.parametrize("biot", [0.05, 1.0, 30.0])
def test_cylinder_and_sphere_roots_by_scipy(biot):
    """At a large time one term is left; its root by scipy's solver."""

    def of_cylinder(z: float) -> float:
        return float(z * special.j1(z) - biot * special.j0(z))

    def of_sphere(z: float) -> float:
        return z * math.cos(z) + (biot - 1) * math.sin(z)

    z = optimize.brentq(of_cylinder, 1e-6, 2.4048)
    ratio = cylinder_left(biot, 2.0) / cylinder_left(biot, 1.0)
    assert ratio == pytest.approx(math.exp(-z * z), rel=2e-3)
    z = optimize.brentq(of_sphere, 1e-6, math.pi - 1e-9)
    ratio = sphere_left(biot, 2.0) / sphere_left(biot, 1.0)
    assert ratio == pytest.approx(math.exp(-z * z), rel=2e-3)


def test_plane_wall_of_the_textbook():
    """Incropera & DeWitt, 6th ed., Ex. 5.4: h 500, k 63.9, L 0.04, 480 s.

    Printed 42.9 degC by one term; 43.02 by the whole series (as quoted in the
    FOSSEE textbook companions).
    """
    mesh = slab([0.04], 1.0, 12, mirrored=True)
    run = cool(
        mesh,
        coefficient=500,
        conductivity=63.9,
        diffusivity=18.8e-6,
        seconds=480,
        start_c=-20,
        air_c=60,
    )
    exact = 60 - 80 * slab_left(500 * 0.04 / 63.9, 18.8e-6 * 480 / 0.04**2)
    assert exact == pytest.approx(43.02, abs=0.006)
    assert run.core_c[-1, 0] == pytest.approx(43.02, abs=0.005 * 63)
    assert run.core_c[-1, 0] == pytest.approx(42.9, abs=0.2)


def test_short_cylinder_of_the_textbook():
    """Cengel, Ex. 4-8: r 0.05, half-length 0.06, h 60, k 110, 900 s, 120 to 25.

    Chart 63 degC; 62.73 by the series (Scilab textbook companion).
    """
    mesh = cylinder([0.05], [0.12], (10, 20))
    run = cool(
        mesh,
        coefficient=60,
        conductivity=110,
        diffusivity=3.39e-5,
        seconds=900,
        start_c=120,
        air_c=25,
    )
    assert run.core_c[-1, 0] == pytest.approx(62.73, abs=0.005 * 37.7)
    assert run.core_c[-1, 0] == pytest.approx(63, abs=0.5)


BRICK = (0.21, 0.11, 0.10)
BRICK_LEFT = {
    15: (0.99987, 0.99146, 0.95946, 0.90680),
    30: (0.99978, 0.98649, 0.93951, 0.86719),
    FIXED: (0.99924, 0.96876, 0.88495, 0.77644),
}


def cool_brick(coefficient: float, cells: tuple[int, int, int], steps: int) -> Run:
    length, width, height = BRICK
    return cool(
        box([length], [width], [height], cells),
        coefficient=coefficient,
        conductivity=0.25,
        diffusivity=1.6e-7,
        seconds=2400,
        steps=steps,
    )


@pytest.mark.parametrize("coefficient", BRICK_LEFT)
def test_brick_like_a_loaf(coefficient):
    """Product of three slabs (Carslaw & Jaeger); at 10, 20, 30, 40 min, 0.5 %."""
    printed = BRICK_LEFT[coefficient]
    series = [
        brick_centre(
            BRICK,
            coefficient=coefficient,
            conductivity=0.25,
            diffusivity=1.6e-7,
            seconds=600 * i,
        )
        for i in (1, 2, 3, 4)
    ]
    assert series == pytest.approx(printed, abs=6e-6)
    run = cool_brick(coefficient, (10, 10, 20), 60)
    found = [run.at(run.core_c, 600.0 * i)[0] for i in (1, 2, 3, 4)]
    assert found == pytest.approx(printed, rel=0.005)


def test_cube_with_fixed_surface():
    """Bi without end, Fo 0.2: 0.772312 cubed is 0.460657."""
    side = 0.1
    mesh = box([side], [side], [side], (16, 16, 32))
    seconds = 0.2 * (side / 2) ** 2 / 1.6e-7
    run = cool(
        mesh, coefficient=FIXED, conductivity=0.25, diffusivity=1.6e-7, seconds=seconds
    )
    assert run.core_c[-1, 0] == pytest.approx(0.460657, rel=0.005)


@pytest.mark.parametrize("biot", [0.8, 12.0])
def test_ball_and_long_cylinder(biot):
    for shape, exact in (("ball", sphere_left), ("rod", cylinder_left)):
        radius, conductivity, diffusivity = 0.04, 0.25, 1.6e-7
        seconds = 0.3 * radius**2 / diffusivity
        mesh = (
            sphere([radius], 20)
            if shape == "ball"
            else cylinder([radius], [100.0], (20, 3))
        )
        run = cool(
            mesh,
            coefficient=biot * conductivity / radius,
            conductivity=conductivity,
            diffusivity=diffusivity,
            seconds=seconds,
        )
        assert run.core_c[-1, 0] == pytest.approx(exact(biot, 0.3), rel=0.005)


def test_error_falls_with_the_square_of_the_cell():
    """Halving the cells in all directions: the error falls about fourfold."""
    exact = brick_centre(
        BRICK, coefficient=30, conductivity=0.25, diffusivity=1.6e-7, seconds=2400
    )
    errors = []
    for n in (5, 10, 20):
        mesh = box([0.21], [0.11], [0.10], (n, n, 2 * n), finer=0.0)
        run = cool(
            mesh,
            coefficient=30,
            conductivity=0.25,
            diffusivity=1.6e-7,
            seconds=2400,
            steps=100,
        )
        errors.append(abs(run.core_c[-1, 0] - exact))
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert orders == pytest.approx(2.0, abs=0.25)


def test_error_falls_with_the_square_of_the_step():
    """Decay ``y' = -y``: halving the step divides the error by four."""

    def decay(state: np.ndarray, out: np.ndarray) -> None:
        np.negative(state, out=out)

    errors = []
    for count in (8, 16, 32):
        march = LegendreSteps(decay, (1,))
        state = np.ones(1)
        for _ in range(count):
            march.step(state, 2.0 / count, 5)
        errors.append(abs(state[0] - math.exp(-2)))
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert orders == pytest.approx(2.0, abs=0.15)


def test_stages_grow_with_the_root_of_the_step():
    assert stages_for(1.0, 0.1) == 3
    many, more = stages_for(10.0, 100.0), stages_for(40.0, 100.0)
    assert more == pytest.approx(2 * many, abs=2)
    for step in (0.5, 3.0, 60.0):
        stages = stages_for(step, 1.0)
        assert step <= (stages**2 + stages - 2) / 2
        assert stages % 2 == 1


def test_same_biot_and_fourier_give_the_same_curve():
    """Twice as large, half the coefficient, four times as long: one curve."""
    curves = []
    for scale in (1.0, 2.0):
        mesh = box([0.2 * scale], [0.1 * scale], [0.08 * scale], (6, 6, 10))
        run = cool(
            mesh,
            coefficient=30 / scale,
            conductivity=0.25,
            diffusivity=1.6e-7,
            seconds=1800 * scale**2,
        )
        curves.append(run.core_c[:, 0])
    assert curves[0] == pytest.approx(curves[1], rel=1e-9)


def test_time_grows_with_the_square_of_the_size_at_fixed_surface():
    times = []
    for scale in (1.0, 3.0):
        mesh = box([0.2 * scale], [0.1 * scale], [0.08 * scale], (6, 6, 10))
        run = cool(
            mesh,
            coefficient=1e12,
            conductivity=0.25,
            diffusivity=1.6e-7,
            seconds=3600 * scale**2,
        )
        times.append(run.when_core_falls_to(np.array([0.5]))[0])
    assert times[1] / times[0] == pytest.approx(9.0, rel=1e-6)


def test_volumes_and_areas_are_those_of_the_body():
    ring = cylinder([0.12], [0.08], (6, 10), tube=[0.03])
    assert ring.volume.sum() * ring.copies == pytest.approx(
        math.pi * (0.12**2 - 0.03**2) * 0.08
    )
    areas = {
        side: sum(o.area.sum() for o in ring.outsides if o.side == side) * ring.copies
        for side in ("side", "tube", "top", "bottom")
    }
    assert areas["side"] == pytest.approx(2 * math.pi * 0.12 * 0.08)
    assert areas["tube"] == pytest.approx(2 * math.pi * 0.03 * 0.08)
    assert areas["top"] == pytest.approx(math.pi * (0.12**2 - 0.03**2))
    brick = box([0.2], [0.1], [0.08], (4, 5, 6))
    walls = sum(o.area.sum() for o in brick.outsides if o.side == "side")
    assert walls * 4 == pytest.approx(2 * (0.2 + 0.1) * 0.08)
    ball = sphere([0.05], 8)
    assert ball.volume.sum() * ball.copies == pytest.approx(4 / 3 * math.pi * 0.05**3)


def test_no_heat_is_lost_in_conduction():
    mesh = box([0.21], [0.11], [0.10], (6, 6, 10))
    run = cool(
        mesh, coefficient=30, conductivity=0.25, diffusivity=1.6e-7, seconds=2400
    )
    assert run.balance.heat_off_error[0] < 1e-9
