"""Flow and heat: friction, fittings, tees, pumps, films, coolers, water and sea water.

Most rows ask a public library for the same formula. Where none has it, the sum is written here from
its definition: an integral by quadrature, a curve by least squares.
"""

import math

import CoolProp
import fluids
import gsw
import ht
import numpy
import scipy
from CoolProp.CoolProp import PropsSI
from fluids import fittings, friction
from ht import conv_external, conv_free_immersed, conv_internal, hx
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

from table import Table

FLUIDS = f"fluids {fluids.__version__}"
HT = f"ht {ht.__version__}"
RELEASE = f"CoolProp {CoolProp.__version__}, IAPWS-95 with R12-08 and R15-11"
INDUSTRIAL = f"CoolProp {CoolProp.__version__}, IAPWS-IF97"
SEA_FITS = f"CoolProp {CoolProp.__version__}, seawater after Sharqawy"
TEOS = f"gsw {gsw.__version__}, TEOS-10"
ROOTS = f"scipy {scipy.__version__}, brentq"
QUADRATURE = f"scipy {scipy.__version__}, quad"
PCHIP = f"scipy {scipy.__version__}, PchipInterpolator"
LEAST_SQUARES = f"numpy {numpy.__version__}, polyfit"
EIGENVALUES = f"scipy {scipy.__version__}, finite differences"

INCH = 0.0254


def hydraulics() -> Table:
    """Friction, fittings, tees and pumps."""
    table = Table(
        "crates/reference/validation/hydraulics_sibling.csv",
        "Flow: friction factors and loss coefficients are pure numbers.\n"
        "rough is roughness over bore; ratio a radius over the bore; beta small bore over large;\n"
        "share the branch's part of the flow; points are L/min:m pairs of a pump's curve.\n"
        "Written by references/hydraulics.py; do not edit.",
        ["re", "rough", "item", "bore_mm", "other_mm", "length_m", "flow_lpm", "density", "viscosity", "ratio"]
        + ["angle", "beta", "share", "k", "kv_m3h", "points", "pressure_bar", "boils_bar"],
    )

    for re, rough in [(4000, 0.0), (2.5e4, 0.0012), (1e5, 0.0005), (3e6, 0.02), (8e4, 0.05)]:
        table.add("colebrook", FLUIDS, friction.Colebrook(re, rough), 1e-10, re=re, rough=rough)

        # The same from the equation itself, with its root bracketed.
        def residual(f: float) -> float:
            return 1 / math.sqrt(f) + 2 * math.log10(rough / 3.7 + 2.51 / (re * math.sqrt(f)))

        root = brentq(residual, 1e-3, 1.0, xtol=1e-15, rtol=1e-14)
        table.add("friction_factor", ROOTS, root, 1e-10, re=re, rough=rough)
    for re, rough in [(5e3, 0.001), (2e4, 0.0), (1e5, 0.01), (1e6, 0.0001), (5e7, 0.03)]:
        table.add("haaland", FLUIDS, friction.Haaland(re, rough), 1e-10, re=re, rough=rough)
    for re, rough in [(50, 0.001), (1900, 0.0), (3000, 0.002), (1e5, 0.01), (1e7, 0.0001)]:
        table.add("churchill", FLUIDS, friction.Churchill_1977(re, rough), 1e-10, re=re, rough=rough)
    for rough in [1e-5, 0.0002, 0.001, 0.01, 0.04]:
        table.add("fully_rough", FLUIDS, friction.von_Karman(rough), 1e-10, rough=rough)

    # A pipe's drop: bore, length, roughness (mm, m, mm), flow in L/min, density, viscosity.
    for bore, length, rough, flow, density, viscosity in [
        (38, 4.2, 0.0015, 90, 1025.0, 0.0011),
        (32, 2.0, 0.0015, 8, 1050.0, 0.0032),
        (50, 9.0, 0.046, 160, 971.8, 0.000354),
        (25, 1.5, 0.15, 40, 998.2, 0.001),
        (8, 1.2, 0.0015, 0.4, 1030.0, 0.0009),
    ]:
        speed = flow / 60e3 / (math.pi / 4 * (bore / 1e3) ** 2)
        drop = fluids.one_phase_dP(density * flow / 60e3, density, viscosity, bore / 1e3, rough / 1e3, length, Method="Colebrook")
        assert abs(density * speed * bore / 1e3 / viscosity - 3000) > 1000
        inputs = dict(bore_mm=bore, length_m=length, flow_lpm=flow, density=density, viscosity=viscosity, rough=rough)
        table.add("pipe_loss", FLUIDS, drop, 1e-6 * drop, **inputs)

    # The library takes f_T from a table of rough factors smoothed by bore; ours is the source's formula.
    for bore in [20.9, 26.6, 35.1, 52.5, 102.3]:
        table.add("turbulent_factor", FLUIDS, fittings.ft_Crane(bore / 1e3), 0.02 * 0.02, bore_mm=bore)
    for item, coefficient in [
        ("globe-valve", fittings.K_globe_valve_Crane(0.05, 0.05)),
        ("angle-valve", fittings.K_angle_valve_Crane(0.05, 0.05, style=1)),
        ("swing-check", fittings.K_swing_check_valve_Crane(D=0.05, angled=True)),
        ("gate-valve", fittings.K_gate_valve_Crane(0.05, 0.05, angle=0.0)),
        ("ball-valve", fittings.K_ball_valve_Crane(0.05, 0.05, angle=0.0)),
    ]:
        table.add("fitting", FLUIDS, coefficient, 0.02 * coefficient, item=item, bore_mm=50)
    for bore, ratio in [(26.6, 1.0), (40.9, 2.0), (52.5, 3.0), (77.9, 6.0), (102.3, 12.0)]:
        value = fittings.bend_rounded(bore / 1e3, angle=90.0, bend_diameters=ratio, method="Crane")
        # The library lays a smooth curve through the printed numbers of diameters.
        table.add("bend", FLUIDS, value, 0.04 * value, bore_mm=bore, ratio=ratio, angle=90)
    for angle in [15, 30, 45, 75, 90]:
        value = fittings.bend_miter(angle=angle, Di=0.05, method="Crane")
        table.add("mitre", FLUIDS, value, 0.02 * value, bore_mm=50, angle=angle)
    for ratio in [0.0, 0.03, 0.06, 0.12, 0.3]:
        value = fittings.entrance_rounded(Di=0.1, rc=0.1 * ratio, method="Crane")
        table.add("entrance", FLUIDS, value, 1e-9, item="rounded", ratio=ratio)

    for beta, angle in [(0.5, 20), (0.7, 40), (0.8, 180), (0.3, 90), (0.9, 30)]:
        value = fittings.diffuser_conical_Crane(Di1=0.1 * beta, Di2=0.1, angle=angle)
        table.add("enlargement", FLUIDS, value, 1e-9, beta=beta, angle=angle)
        value = fittings.contraction_conical_Crane(Di1=0.1, Di2=0.1 * beta, angle=angle)
        # The library gives it on the bore after the step, which is the small one, as here.
        table.add("contraction", FLUIDS, value, 1e-9, beta=beta, angle=angle)
    for beta, angle in [(0.6, 20), (0.75, 45), (0.8, 180), (0.9, 60), (0.7, 30)]:
        value = fittings.K_ball_valve_Crane(D1=0.05 * beta, D2=0.05, angle=angle)
        # The library takes the valve's own number times the pipe's f_T.
        open_valve = 3.0 * fittings.ft_Crane(0.05)
        table.add("reduced_valve", FLUIDS, value, 1e-8 * value, beta=beta, angle=angle, k=f"{open_valve:.10g}")
    for kv, bore in [(10.0, 25.0), (4.5, 20.0), (33.0, 40.0), (68.0, 52.5), (1.2, 13.0)]:
        value = fittings.Kv_to_K(kv, bore / 1e3)
        # The library rounds its constant to 1.6e9.
        table.add("by_kv", FLUIDS, value, 0.001 * value, kv_m3h=kv, bore_mm=bore)
    for item, name, re, bore in [
        ("elbow 90°, r/D 1, screwed", "Elbow, 90°, Standard (R/D = 1), Screwed", 600.0, 40.9),
        ("elbow 90°, r/D 1.5", "Elbow, 90°, Long-radius (R/D = 1.5), All types", 3e4, 35.0),
        ("gate valve, full bore", "Valve, Gate, Full line size, Beta = 1", 1e5, 52.5),
        ("swing check valve", "Valve, Check, Swing", 2000.0, 26.6),
        ("mitre 90°", "Elbow, 90°, Mitered (R/D = 1.5), 1 weld (90° angle)", 50.0, 102.3),
    ]:
        value = fittings.Hooper2K(Di=bore / 25.4, Re=re, name=name)
        table.add("two_k", FLUIDS, value, 1e-9 * value, item=item, re=re, bore_mm=bore)

    # Shares at which the source's steps and ours are one.
    for share, beta, angle in [(0.25, 1.0, 90), (0.7, 0.8, 90), (0.45, 0.5, 45), (0.6, 0.7, 60), (0.2, 0.9, 30)]:
        legs = dict(D_run=0.05, D_branch=0.05 * beta, Q_run=1 - share, Q_branch=share, angle=angle)
        inputs = dict(share=share, beta=beta, angle=angle)
        table.add("joining_branch", FLUIDS, fittings.K_branch_converging_Crane(**legs), 1e-9, **inputs)
        table.add("joining_run", FLUIDS, fittings.K_run_converging_Crane(**legs), 1e-9, **inputs)
        table.add("parting_run", FLUIDS, fittings.K_run_diverging_Crane(**legs), 1e-9, **inputs)
    for share, beta, angle in [(0.25, 1.0, 90), (0.7, 0.6, 90), (0.3, 0.5, 45), (0.7, 0.7, 60), (0.2, 0.9, 30)]:
        legs = dict(D_run=0.05, D_branch=0.05 * beta, Q_run=1 - share, Q_branch=share, angle=angle)
        value = fittings.K_branch_diverging_Crane(**legs)
        if angle == 90 and beta == 1.0:
            # The library takes H = 1 and J = 2 at a right angle unless beta is one; both are so here.
            assert abs(value - (1 + 0.3 * share**2) ** 2) < 1e-12
        table.add("parting_branch", FLUIDS, value, 1e-9, share=share, beta=beta, angle=angle)

    # Two curves with flow in L/min and head in m, invented.
    curves = {
        "0:6.1;40:5.8;80:5.0;120:3.6;150:2.1": [10.0, 47.0, 80.0, 111.0, 149.0],
        "0:3.2;15:3.2;45:2.9;70:1.7": [5.0, 20.0, 45.0, 60.0, 69.0],
    }
    for points, flows in curves.items():
        pairs = [tuple(map(float, pair.split(":"))) for pair in points.split(";")]
        q, h = (numpy.array(column) for column in zip(*pairs))
        smooth = PchipInterpolator(q, h)
        fitted = numpy.polynomial.Polynomial.fit(q, h, 2)
        for flow in flows:
            asked = dict(points=points, flow_lpm=flow)
            table.add("pump_monotone", PCHIP, float(smooth(flow)), 1e-9, **asked)
            if points.startswith("0:6"):
                table.add("pump_quadratic", LEAST_SQUARES, float(fitted(flow)), 1e-9, **asked)
            else:
                slope = float(smooth.derivative()(flow)) * 60e3
                table.add("pump_slope", PCHIP, slope, 1e-6, **asked)
    return table


def film() -> Table:
    """Heat through films."""
    table = Table(
        "crates/reference/validation/film_sibling.csv",
        "Films: Nusselt numbers and factors, pure numbers. short is bore over length; fore and aft are\n"
        "Reynolds numbers from the bow to both ends of a cooler; aspect is short over long side.\n"
        "Written by references/hydraulics.py; do not edit.",
        ["re", "pr", "short", "fore", "aft", "ra", "aspect", "forced", "still", "pr_wall"],
    )
    for re, pr in [(4000, 3.0), (1e4, 7.0), (2.5e4, 12.0), (1e5, 2.2), (1e6, 60.0)]:
        friction_factor = (0.79 * math.log(re) - 1.64) ** -2
        value = conv_internal.turbulent_Gnielinski(Re=re, Pr=pr, fd=friction_factor)
        table.add("gnielinski", HT, value, 1e-9 * value, re=re, pr=pr)
        table.add("inside", HT, value, 1e-9 * value, re=re, pr=pr, short=0.02)
    for re, pr, short in [(300, 30.0, 0.02), (1500, 12.0, 0.01), (2300, 60.0, 0.1), (900, 5.0, 0.005), (100, 200.0, 0.05)]:
        value = conv_internal.laminar_entry_thermal_Hausen(Re=re, Pr=pr, L=1.0 / short, Di=1.0)
        # The library's constant for a long tube is 3.66 too.
        table.add("hausen", HT, value, 1e-9 * value, re=re, pr=pr, short=short)
    for re, pr in [(1e4, 3.0), (3e4, 7.0), (1e5, 2.2), (2e5, 12.0), (8e5, 1.0)]:
        value = conv_internal.turbulent_Dittus_Boelter(Re=re, Pr=pr, heating=False)
        table.add("dittus_boelter_cooled", HT, value, 1e-9 * value, re=re, pr=pr)

    for fore, aft, pr in [(0.0, 2e6, 7.0), (5e6, 8e6, 9.0), (1.2e7, 2e7, 11.5), (6e5, 9e5, 6.0), (4e7, 4.4e7, 8.0)]:
        # The mean of the local law over the cooler, on its own length: Nu = integral of Nu_x dRe/Re.
        value, _ = quad(lambda re: 0.0296 * re**-0.2 * pr ** (1 / 3), fore, aft, epsabs=1e-9, epsrel=1e-11)
        table.add("plate_between", QUADRATURE, value, 1e-5 * value, fore=fore, aft=aft, pr=pr)
    for re, pr in [(2e4, 7.0), (1e5, 3.0), (3e5, 9.0), (4.9e5, 6.0), (5e4, 1.0)]:
        value = conv_external.Nu_horizontal_plate_laminar_Baehr(re, pr)
        table.add("plate_smooth", HT, value, 0.001 * value, re=re, pr=pr)

    for ra, pr in [(1e5, 7.0), (3e7, 0.71), (2e9, 9.5), (5e10, 6.0), (9e11, 11.0)]:
        value = conv_free_immersed.Nu_vertical_plate_Churchill(Pr=pr, Gr=ra / pr)
        table.add("still_upright", HT, value, 1e-9 * value, ra=ra, pr=pr)
        value = conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu(Pr=pr, Gr=ra / pr)
        # The library's middle number is 0.559 as here, its start 0.60.
        table.add("still_pipe", HT, value, 1e-9 * value, ra=ra, pr=pr)
    for ra in [1e5, 1e6, 3e7, 2e8, 9e9]:
        value = conv_free_immersed.Nu_horizontal_plate_McAdams(Pr=7.0, Gr=ra / 7.0, buoyancy=False)
        table.add("still_under_older", HT, value, 1e-9 * value, ra=ra)

    for aspect in [1.0, 0.5, 0.25, 0.125]:
        nusselt, friction_re = rectangle(aspect)
        table.add("channel_nusselt", EIGENVALUES, nusselt, 0.006 * nusselt, aspect=aspect)
        table.add("channel_friction", EIGENVALUES, friction_re, 0.003 * friction_re, aspect=aspect)
    return table


def rectangle(aspect: float, n: int = 60) -> tuple[float, float]:
    """Laminar flow far down a rectangular duct, its walls of one temperature: Nu and f Re.

    The speed solves lap(u) = -1. Far downstream the temperature keeps its shape and fades along the
    duct: lap(T) = -m u T with the least m. Heat balance then gives Nu = m Dh^2 u_mean/4, in lengths
    of the duct. Second-order differences on a staggered grid; two grids, drawn on to none.
    """

    def on_grid(n: int) -> tuple[float, float]:
        a, b = 1.0, aspect
        dx, dy = a / n, b / n

        def second(count: int, step: float):
            d = scipy.sparse.diags([numpy.ones(count - 1), -2.0 * numpy.ones(count), numpy.ones(count - 1)], [-1, 0, 1]).tolil()
            # The wall lies half a step outside the first and the last point.
            d[0, 0] = d[-1, -1] = -3.0
            return d.tocsr() / step**2

        one = scipy.sparse.identity(n)
        laplace = (scipy.sparse.kron(second(n, dx), one) + scipy.sparse.kron(one, second(n, dy))).tocsc()
        u = scipy.sparse.linalg.spsolve(laplace, -numpy.ones(n * n))
        u_mean = u.mean()
        across = 4.0 * a * b / (2.0 * (a + b))
        # dp/dx is one, the viscosity one: f = 2 Dh/(u^2) and Re = u Dh, so f Re = 2 Dh^2/u.
        friction_re = 2.0 * across**2 / u_mean
        # The shape that fades least, by inverse iteration with the fixed start of ones.
        solve = scipy.sparse.linalg.factorized(laplace)
        t = numpy.ones(n * n)
        fades = 0.0
        for _ in range(60):
            new = solve(-u * t)
            fades = float((t @ (u * t)) / (t @ (u * new)))
            t = new / numpy.abs(new).max()
        return fades * across**2 * u_mean / 4.0, friction_re

    coarse, fine = on_grid(n), on_grid(2 * n)
    return tuple((4.0 * f - c) / 3.0 for c, f in zip(coarse, fine))


def exchanger() -> Table:
    """Coolers by effectiveness and transfer units."""
    table = Table(
        "crates/reference/validation/exchanger_sibling.csv",
        "Coolers: effectiveness, transfer units and ratio of the streams are pure numbers; ends in K.\n"
        "Written by references/hydraulics.py; do not edit.",
        ["how", "units", "ratio", "effectiveness", "one_k", "other_k"],
    )
    named = {
        "counter": dict(subtype="counterflow"),
        "parallel": dict(subtype="parallel"),
        "shell-1": dict(subtype="S&T", n_shell_tube=1),
        "shell-2": dict(subtype="S&T", n_shell_tube=2),
        "cross-unmixed": dict(subtype="crossflow approximate"),
        "cross-larger-mixed": dict(subtype="crossflow, mixed Cmax"),
        "cross-smaller-mixed": dict(subtype="crossflow, mixed Cmin"),
    }
    cases = [(0.4, 0.3), (1.2, 0.75), (2.5, 1.0), (0.9, 0.5), (4.0, 0.2)]
    for how, names in named.items():
        for units, ratio in cases:
            # For shells the library divides by nothing where both streams are one.
            ratio = min(ratio, 0.97) if how.startswith("shell") else ratio
            value = hx.effectiveness_from_NTU(NTU=units, Cr=ratio, **names)
            table.add(f"effectiveness_{how}", HT, value, 1e-9, how=how, units=units, ratio=ratio)
            wanted = float(f"{value * 0.97:.4f}")
            back = hx.NTU_from_effectiveness(effectiveness=wanted, Cr=ratio, **names)
            table.add(f"units_{how}", HT, back, 1e-6, how=how, effectiveness=wanted, ratio=ratio)
    for units, ratio in [(0.5, 0.5), (1.0, 0.9), (1.5, 0.25), (2.0, 0.75), (3.0, 0.5)]:
        exact = hx.effectiveness_from_NTU(NTU=units, Cr=ratio, subtype="crossflow")
        # The product's form is an approximation of this exact one.
        table.add("effectiveness_cross-unmixed", f"{HT}, exact sum", exact, 0.01, how="cross-unmixed", units=units, ratio=ratio)
    for one, other in [(30.0, 12.0), (8.0, 8.0), (10.0, 10.002), (55.0, 3.0), (6.0, 21.0)]:
        value, _ = quad(lambda x: one ** (1 - x) * other**x, 0, 1, epsabs=1e-12)
        table.add("mean_difference", QUADRATURE, value, 1e-8, one_k=one, other_k=other)
    return table


def water() -> Table:
    """Fresh and sea water."""
    table = Table(
        "crates/reference/validation/water_sibling.csv",
        "Water: temperatures in degrees C, salt in kg/kg, pressure in bar absolute; answers in SI,\n"
        "boiling temperatures in degrees C. Written by references/hydraulics.py; do not edit.",
        ["celsius", "salt", "bar"],
    )
    for celsius in [0.01, 20, 60, 90, 130]:
        kelvin = celsius + 273.15
        for function, key, share in [
            ("water_density", "D", 2e-6),
            ("water_specific_heat", "C", 1e-5),
            ("water_conductivity", "L", 1e-5),
            ("water_viscosity", "V", 2e-5),
        ]:
            value = PropsSI(key, "T", kelvin, "P", 3e5, "Water")
            table.add(function, RELEASE, value, share * value, celsius=celsius)
        value = PropsSI("ISOBARIC_EXPANSION_COEFFICIENT", "T", kelvin, "P", 3e5, "Water")
        table.add("water_expansion", RELEASE, value, 2e-6, celsius=celsius)
        # IAPWS-IF97 comes near to IAPWS-95 within these; its boiling pressure is the released one.
        value = PropsSI("D", "T", kelvin, "P", 3e5, "IF97::Water")
        table.add("water_density", INDUSTRIAL, value, 2e-5 * value, celsius=celsius)
        value = PropsSI("C", "T", kelvin, "P", 3e5, "IF97::Water")
        table.add("water_specific_heat", INDUSTRIAL, value, 1e-3 * value, celsius=celsius)
        value = PropsSI("P", "T", kelvin, "Q", 0, "IF97::Water")
        table.add("boiling_pressure", INDUSTRIAL, value, 1e-8 * value, celsius=celsius)
        value = PropsSI("P", "T", kelvin, "Q", 0, "Water")
        table.add("boiling_pressure", RELEASE, value, 3e-4 * value, celsius=celsius)
    for bar in [0.1, 1.01325, 1.7, 2.0, 2.7]:
        value = PropsSI("T", "P", bar * 1e5, "Q", 0, "IF97::Water") - 273.15
        table.add("boiling_temperature", INDUSTRIAL, value, 1e-6, bar=bar)
        value = PropsSI("T", "P", bar * 1e5, "Q", 0, "Water") - 273.15
        table.add("boiling_temperature", RELEASE, value, 0.01, bar=bar)

    # Tolerances: what the source states of its fits (0.1, 0.3, 3 and 1.5 %); the library lays its own
    # curves through them.
    for celsius, salt in [(1, 0.035), (10, 0.02), (20, 0.035), (40, 0.04), (60, 0.01)]:
        for function, key, share in [
            ("sea_density", "D", 2e-4),
            ("sea_specific_heat", "C", 5e-4),
            ("sea_conductivity", "L", 5e-4),
            ("sea_viscosity", "V", 0.01),
        ]:
            value = PropsSI(key, "T", celsius + 273.15, "P", 101325.0, f"INCOMP::MITSW[{salt}]")
            table.add(function, SEA_FITS, value, share * value, celsius=celsius, salt=salt)
    for celsius, salt in [(1, 0.035), (10, 0.035), (20, 0.035), (30, 0.02), (39, 0.04)]:
        grams = salt * 1000
        value = float(gsw.rho_t_exact(grams, celsius, 0))
        table.add("sea_density", TEOS, value, 0.001 * value, celsius=celsius, salt=salt)
        value = float(gsw.cp_t_exact(grams, celsius, 0))
        table.add("sea_specific_heat", TEOS, value, 0.003 * value, celsius=celsius, salt=salt)
        value = float(gsw.alpha_wrt_t_exact(grams, celsius, 0))
        table.add("sea_expansion", TEOS, value, 0.11 * value, celsius=celsius, salt=salt)
    return table


def tables() -> list[Table]:
    """Flow, films, coolers, water."""
    return [hydraulics(), film(), exchanger(), water()]
