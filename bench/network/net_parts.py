"""What a branch is made of: friction, fittings, pumps and coolers, each from its published formula.

The parts between two places where heat comes or goes have one temperature; they are one `Piece`, whose
plain loss coefficients are added up once. A branch is a row of pieces in the order of the flow.
"""

import math

import numpy
from fluids import fittings, friction
from ht import conv_free_immersed, conv_internal, hx
from scipy.interpolate import PchipInterpolator

import net_fluids
from net_case import ARRANGEMENTS, FITTINGS, PLAIN, VALVES, At

G = 9.80665
# Height of the roughness of the clean steel to which Crane's f_T belongs, 0.00015 ft [m].
CLEAN_STEEL = 4.572e-5
# Numbers of bores of a bend for r/D, Crane TP-410; straight lines between.
BENDS = numpy.array([(1, 20), (1.5, 14), (2, 12), (3, 12), (4, 14), (6, 17), (8, 24), (10, 30), (12, 34), (14, 38), (16, 42), (20, 50)])
# A thermostat that is shut wholly would make the network singular: a millionth of its opening is left.
LEAST_OPENING = 1e-6


def area(bore: float) -> float:
    return math.pi / 4.0 * bore * bore


def colebrook(re: float, rough: float) -> float:
    """Colebrook's equation solved to rounding, by the library's fast exact form."""
    return friction.Clamond(re, rough)


def fitting_k(at: At, kind: str, bore: float) -> float:
    if kind in PLAIN:
        return PLAIN[kind]
    if kind == "bend90":
        ratio = at.number("r_D", least=1.0)
        return float(numpy.interp(ratio, BENDS[:, 0], BENDS[:, 1])) * friction.von_Karman(CLEAN_STEEL / bore)
    if kind in FITTINGS:
        return FITTINGS[kind] * friction.von_Karman(CLEAN_STEEL / bore)
    raise at.fault(f"{kind!r} is no fitting; known are {', '.join([*FITTINGS, *PLAIN, 'bend90'])}")


def step_k(small: float, large: float, angle: float, narrows: bool) -> float:
    """A reducer's K on the small bore."""
    if small == large:
        return 0.0
    if narrows:
        return fittings.contraction_conical_Crane(Di1=large, Di2=small, angle=angle)
    return fittings.diffuser_conical_Crane(Di1=small, Di2=large, angle=angle)


def valve_k(at: At) -> float:
    kind, bore = at.word("kind", VALVES), at.size("D_m")
    seat = at.size("D_bore_m", bore)
    angle = at.number("angle_deg", 180.0, over=0.0)
    if seat > bore:
        raise at.fault("D_bore_m is larger than D_m")
    own = FITTINGS[kind] * friction.von_Karman(CLEAN_STEEL / seat)
    beta = seat / bore
    return (own + step_k(seat, bore, angle, True) + step_k(seat, bore, angle, False)) / beta**4


class Pump:
    """Head over flow, both in metres of the liquid and m³/s, at its own speed."""

    def __init__(self, at: At) -> None:
        reference = at.size("ref_speed_rpm", 1.0)
        self.ratio = at.number("speed_rpm", reference, least=0.0) / reference
        curve = at.get("curve")
        self.smooth = None
        if curve.has("points"):
            curve.only("points", "fit")
            try:
                q, h = (numpy.array(column, dtype=float) for column in zip(*(row.value for _, row in curve.items("points")), strict=True))
            except (TypeError, ValueError) as fault:
                raise curve.get("points").fault("should be pairs of m³/s and m") from fault
            if len(q) < 2 or not numpy.all(numpy.diff(q) > 0):
                raise curve.get("points").fault("should be two or more pairs of rising flow")
            if curve.word("fit", ["quadratic", "pchip"], "quadratic") == "quadratic":
                if len(q) < 3:
                    raise curve.get("points").fault("a quadratic needs three points or more")
                fit = numpy.polynomial.Polynomial.fit(q, h, 2).convert().coef
                self.a, self.b, self.c = (float(value) for value in numpy.append(fit, [0.0, 0.0])[:3])
            else:
                self.smooth = PchipInterpolator(q, h)
                slopes = self.smooth.derivative()
                self.ends = [(float(q[i]), float(h[i]), float(slopes(q[i]))) for i in (0, -1)]
                self.knots, self.coefficients = q.tolist(), self.smooth.c.T.tolist()
        else:
            curve.only("a_m", "b", "c")
            self.a, self.b, self.c = curve.number("a_m"), curve.number("b", 0.0), curve.number("c", 0.0)

    def head(self, flow: float) -> float:
        """By the affinity laws: flow goes with the speed, head with its square."""
        r = self.ratio
        if self.smooth is None:
            return self.a * r * r + self.b * r * flow + self.c * flow * flow
        if r == 0.0:
            return 0.0
        q = flow / r
        first, last = self.ends
        if q <= first[0]:
            value = first[1] + first[2] * (q - first[0])
        elif q >= last[0]:
            value = last[1] + last[2] * (q - last[0])
        else:
            i = 0
            while self.knots[i + 1] < q:
                i += 1
            d = q - self.knots[i]
            c = self.coefficients[i]
            value = ((c[0] * d + c[1]) * d + c[2]) * d + c[3]
        return value * r * r


class Pipe:
    def __init__(self, bore: float, length: float, rough: float, count: float, flow_area: float, fixed=None) -> None:
        """`flow_area` is that of one of `count` like pipes that share the flow."""
        self.D, self.L, self.eD, self.A, self.fixed = bore, length, rough / bore, count * flow_area, fixed
        self.per_mu = bore / self.A
        self.coefficient = length / bore / (2.0 * self.A**2)
        self.f4000 = colebrook(4000.0, self.eD)

    def factor(self, re: float) -> float:
        """For Re over 2000."""
        if re >= 4000.0:
            return colebrook(re, self.eD)
        return 0.032 + (self.f4000 - 0.032) * (re - 2000.0) / 2000.0

    def loss(self, m: float, flow: float, rho: float, mu: float) -> float:
        if self.fixed is not None:
            return self.fixed * self.coefficient * m * flow / rho
        re = flow * self.per_mu / mu
        if re <= 2000.0:
            return 64.0 * mu / self.per_mu * self.coefficient * m / rho
        return self.factor(re) * self.coefficient * m * flow / rho


class Piece:
    """Parts at one temperature. `heat` is the watts added, `cooler` what takes heat away."""

    def __init__(self) -> None:
        # Sums of K/A², for the flow as the branch is written and for the other way.
        self.forth = self.back = 0.0
        self.pipes: list[Pipe] = []
        self.powers: list[tuple[float, float]] = []
        self.thermostats: list[tuple[bool, float, float, bool]] = []
        self.pumps: list[Pump] = []
        self.heat = 0.0
        self.cooler = None

    def has_heat(self) -> bool:
        return self.heat != 0.0 or self.cooler is not None

    def add(self, k: float, flow_area: float) -> None:
        self.forth += k / flow_area**2
        self.back += k / flow_area**2

    def drop(self, m: float, rho: float, mu: float, lift: float) -> tuple[float, float]:
        """Loss and gain in Pa along the branch as it is written."""
        flow = abs(m)
        k = self.forth if m >= 0.0 else self.back
        for main, fully, leak, closes in self.thermostats:
            k += fully / opening(main, leak, closes, lift) ** 2
        loss = k * m * flow / (2.0 * rho)
        for pipe in self.pipes:
            loss += pipe.loss(m, flow, rho, mu)
        for c, n in self.powers:
            part = c * rho * (flow / rho) ** n
            loss += part if m >= 0.0 else -part
        gain = 0.0
        for pump in self.pumps:
            gain += rho * G * pump.head(m / rho)
        return loss, gain


def opening(main: bool, leak: float, closes: bool, lift: float) -> float:
    if not main and not closes:
        return 1.0
    share = min(max(lift, 0.0), 1.0)
    return max(leak + (1.0 - leak) * (share if main else 1.0 - share), LEAST_OPENING)


class Waters:
    """The waters outside and the raw waters, each made once."""

    def __init__(self) -> None:
        self.made: dict[float, net_fluids.Sea] = {}

    def of(self, at: At) -> net_fluids.Sea:
        at.only("type", "salinity_kg_kg")
        kind = at.word("type", ["seawater", "water"])
        salt = at.number("salinity_kg_kg", least=0.0) if kind == "seawater" else 0.0
        if salt not in self.made:
            self.made[salt] = net_fluids.Sea(salt)
        return self.made[salt]


def inside_nusselt(re: float, pr: float, short: float) -> float:
    """Hausen to Re 2300, Gnielinski from 4000, a straight line between."""
    if re <= 2300.0:
        return conv_internal.laminar_entry_thermal_Hausen(Re=re, Pr=pr, L=1.0 / short, Di=1.0)
    high = max(re, 4000.0)
    turbulent = conv_internal.turbulent_Gnielinski(Re=high, Pr=pr, fd=(0.79 * math.log(high) - 1.64) ** -2)
    if re >= 4000.0:
        return turbulent
    laminar = conv_internal.laminar_entry_thermal_Hausen(Re=2300.0, Pr=pr, L=1.0 / short, Di=1.0)
    return laminar + (turbulent - laminar) * (re - 2300.0) / 1700.0


class Outside:
    """The film outside a keel pipe or skin tank, over the surface temperature: a table made once."""

    STEP = 0.05

    def __init__(self, at: At, waters: Waters) -> None:
        at.only("fluid", "flow_length_m", "x0_m", "natural_length_m", "natural_geometry", "speed_m_s", "T_C")
        self.sea = waters.of(at.get("fluid"))
        self.celsius = at.number("T_C", least=-2.5)
        self.length, self.start = at.size("flow_length_m"), at.number("x0_m", 0.0, least=0.0)
        self.across = at.size("natural_length_m")
        upright = at.word("natural_geometry", ["horizontal_cylinder", "vertical_plate"]) == "vertical_plate"
        self.free = conv_free_immersed.Nu_vertical_plate_Churchill if upright else conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu
        self.speed = at.number("speed_m_s", least=0.0)
        self.low = min(self.celsius, 0.0) - 2.0
        surfaces = numpy.arange(self.low, 150.0, self.STEP)
        self.films = [self.film(t) for t in surfaces]

    def film(self, surface: float) -> float:
        mean = (surface + self.celsius) / 2.0
        rho, mu, cp, k = self.sea.table.at(mean)
        nu, pr = mu / rho, cp * mu / k
        forced = 0.0
        if self.speed > 0.0:
            fore, aft = (self.speed * x / nu for x in (self.start, self.start + self.length))
            forced = 0.037 * (aft**0.8 - fore**0.8) * pr ** (1.0 / 3.0) * k / self.length
        grashof = G * abs(self.sea.expansion(mean) * (surface - self.celsius)) * self.across**3 / nu**2
        free = self.free(Pr=pr, Gr=grashof) * k / self.across
        return (forced**3 + free**3) ** (1.0 / 3.0)

    def at(self, surface: float) -> float:
        place = max((surface - self.low) / self.STEP, 0.0)
        i = min(int(place), len(self.films) - 2)
        w = min(place - i, 1.0)
        return self.films[i] * (1.0 - w) + self.films[i + 1] * w


class HullCooler:
    """Keel pipe or skin tank: films on both sides of a wall, the sea outside never warms."""

    def __init__(self, at: At, waters: Waters, piece: Piece) -> None:
        common = ("type", "id", "kind", "k_wall", "eps_m", "K_internal", "R_f_in", "R_f_out", "outside")
        rough, k_internal = at.number("eps_m", least=0.0), at.number("K_internal", 0.0, least=0.0)
        fouled_in, fouled_out = at.number("R_f_in", 0.0, least=0.0), at.number("R_f_out", 0.0, least=0.0)
        if at.value["kind"] == "keel_pipe":
            at.only(*common, "D_i_m", "D_o_m", "n_parallel", "L_each_m", "outside_area_fraction", "conn_m")
            bore, over, count, length = at.size("D_i_m"), at.size("D_o_m"), at.size("n_parallel"), at.size("L_each_m")
            if over <= bore:
                raise at.fault("D_o_m should be over D_i_m")
            # Without a bore of the connection, K is on the speed in one pipe.
            connection = area(at.size("conn_m")) if at.has("conn_m") else count * area(bore)
            piece.pipes.append(Pipe(bore, length, rough, count, area(bore)))
            piece.add(k_internal, connection)
            self.A_i = count * math.pi * bore * length
            self.A_o = count * math.pi * over * length * at.size("outside_area_fraction", 1.0)
            wall = math.log(over / bore) / (2.0 * math.pi * at.size("k_wall") * length * count)
            self.per_mu, self.short = bore / (count * area(bore)), bore / length
        else:
            at.only(*common, "channel_width_m", "channel_depth_m", "channel_length_m", "wall_m")
            wide, deep, length = at.size("channel_width_m"), at.size("channel_depth_m"), at.size("channel_length_m")
            bore = 2.0 * wide * deep / (wide + deep)
            piece.pipes.append(Pipe(bore, length, rough, 1.0, wide * deep))
            piece.add(k_internal, wide * deep)
            self.A_i = self.A_o = wide * length
            wall = at.number("wall_m", least=0.0) / at.size("k_wall") / self.A_i
            self.per_mu, self.short = bore / (wide * deep), bore / length
        self.bore = bore
        self.out = Outside(at.get("outside"), waters)
        self.between = fouled_in / self.A_i + wall + fouled_out / self.A_o
        self.sea = self.out.celsius
        self.forget()

    def forget(self) -> None:
        """Every solve is to begin cold."""
        self.surface, self.drop = None, None

    def takes(self) -> bool:
        return True

    def heat(self, flow: float, inlet: float, table) -> tuple[float, float]:
        """Watts taken and the temperature of what leaves."""
        if flow < 1e-12:
            return 0.0, inlet
        over = inlet - self.sea
        surface = self.sea + 0.3 * over if self.surface is None else self.surface
        outlet = inlet - 0.1 * over if self.drop is None else inlet - self.drop
        enthalpy = table.h(inlet)
        before = None
        for _ in range(60):
            _, mu, cp, k = table.at((inlet + outlet) / 2.0)
            nusselt = inside_nusselt(flow * self.per_mu / mu, cp * mu / k, self.short)
            outer = self.out.at(surface) * self.A_o
            ua = 1.0 / (self.bore / (nusselt * k * self.A_i) + self.between + 1.0 / outer)
            q = flow * cp * -math.expm1(-ua / (flow * cp)) * over
            left = table.t(enthalpy - q / flow, outlet)
            miss, change = self.sea + q / outer - surface, left - outlet
            outlet = left
            if abs(miss) + abs(change) < 1e-10:
                break
            # Steffensen's step on the surface temperature, the slower of the two.
            if before is not None and before[1] != miss:
                step = miss * (surface - before[0]) / (before[1] - miss)
                step = step if abs(step) < 5.0 * abs(miss) else miss
            else:
                step = miss
            before = (surface, miss)
            surface += step
        self.surface, self.drop = surface, inlet - outlet
        return q, outlet


class Exchanger:
    """Raw water against coolant, by effectiveness and transfer units."""

    NAMES = {
        "counter": dict(subtype="counterflow"),
        "parallel": dict(subtype="parallel"),
        "shell_1_2": dict(subtype="S&T", n_shell_tube=1),
        "cross_unmixed": dict(subtype="crossflow approximate"),
        "cross_mixed_max": dict(subtype="crossflow, mixed Cmax"),
        "cross_mixed_min": dict(subtype="crossflow, mixed Cmin"),
    }

    def __init__(self, at: At, waters: Waters) -> None:
        at.only("type", "id", "kind", "arrangement", "UA_W_K", "tubes", "raw", "dp_ref_Pa", "Q_ref_m3_s")
        self.names = self.NAMES[at.word("arrangement", ARRANGEMENTS)]
        raw = at.get("raw")
        raw.only("fluid", "m_kg_s", "T_C")
        self.raw = waters.of(raw.get("fluid")).table
        self.m_raw, self.sea = raw.number("m_kg_s", least=0.0), raw.number("T_C", least=-2.5)
        self.ua = None
        if at.has("UA_W_K") == at.has("tubes"):
            raise at.fault("should have one of UA_W_K and tubes")
        if at.has("UA_W_K"):
            self.ua = at.number("UA_W_K", least=0.0)
        else:
            t = at.get("tubes")
            t.only("n", "passes", "D_i_m", "D_o_m", "L_m", "k_wall", "h_shell_ref", "m_shell_ref", "shell_exp", "R_f_in", "R_f_out")
            count, bore, over, length = t.size("n"), t.size("D_i_m"), t.size("D_o_m"), t.size("L_m")
            self.bore, self.short = bore, bore / length
            self.per_mu = bore / (count / t.size("passes", 1.0) * area(bore))
            self.A_i, self.A_o = count * math.pi * bore * length, count * math.pi * over * length
            wall = math.log(over / bore) / (2.0 * math.pi * t.size("k_wall") * count * length)
            self.between = t.number("R_f_in", 0.0, least=0.0) / self.A_i + wall + t.number("R_f_out", 0.0, least=0.0) / self.A_o
            self.shell = t.size("h_shell_ref"), t.size("m_shell_ref"), t.number("shell_exp", least=0.0)
        self.forget()

    def forget(self) -> None:
        self.drop, self.rise = None, None

    def takes(self) -> bool:
        return self.m_raw > 0.0 and self.ua != 0.0

    def transfer(self, flow: float, raw_mean: float) -> float:
        if self.ua is not None:
            return self.ua
        _, mu, cp, k = self.raw.at(raw_mean)
        inner = inside_nusselt(self.m_raw * self.per_mu / mu, cp * mu / k, self.short) * k / self.bore
        h, reference, power = self.shell
        return 1.0 / (1.0 / (inner * self.A_i) + self.between + 1.0 / (h * (flow / reference) ** power * self.A_o))

    def heat(self, flow: float, inlet: float, table) -> tuple[float, float]:
        if flow < 1e-12 or not self.takes():
            return 0.0, inlet
        over = inlet - self.sea
        outlet = inlet - (0.1 * over if self.drop is None else self.drop)
        raw_out = self.sea + (0.1 * over if self.rise is None else self.rise)
        enthalpy, raw_enthalpy = table.h(inlet), self.raw.h(self.sea)
        for _ in range(60):
            raw_mean = (self.sea + raw_out) / 2.0
            hot = flow * table.at((inlet + outlet) / 2.0)[2]
            cold = self.m_raw * self.raw.at(raw_mean)[2]
            least, most = min(hot, cold), max(hot, cold)
            # The library divides by the ratio: none at all is a millionth of a millionth.
            ratio = max(least / most, 1e-12)
            share = hx.effectiveness_from_NTU(NTU=self.transfer(flow, raw_mean) / least, Cr=ratio, **self.names)
            q = share * least * over
            left, warmed = table.t(enthalpy - q / flow, outlet), self.raw.t(raw_enthalpy + q / self.m_raw, raw_out)
            change = abs(left - outlet) + abs(warmed - raw_out)
            outlet, raw_out = left, warmed
            if change < 1e-10:
                break
        self.drop, self.rise = inlet - outlet, raw_out - self.sea
        return q, outlet


class Sink:
    """A given conductance to a given temperature."""

    def __init__(self, at: At) -> None:
        at.only("type", "id", "kind", "UA_W_K", "T_C", "dp_ref_Pa", "Q_ref_m3_s")
        self.ua, self.sea = at.number("UA_W_K", least=0.0), at.number("T_C")
        self.forget()

    def forget(self) -> None:
        self.drop = None

    def takes(self) -> bool:
        return self.ua > 0.0

    def heat(self, flow: float, inlet: float, table) -> tuple[float, float]:
        if flow < 1e-12:
            return 0.0, inlet
        over = inlet - self.sea
        outlet = inlet - (0.1 * over if self.drop is None else self.drop)
        enthalpy = table.h(inlet)
        for _ in range(60):
            c = flow * table.at((inlet + outlet) / 2.0)[2]
            q = -c * math.expm1(-self.ua / c) * over
            left = table.t(enthalpy - q / flow, outlet)
            change = abs(left - outlet)
            outlet = left
            if change < 1e-10:
                break
        self.drop = inlet - outlet
        return q, outlet


def rated(at: At, piece: Piece, default_power: float = 2.0) -> None:
    """A loss that goes with a power of the flow."""
    if not at.has("dp_ref_Pa"):
        return
    power = at.number("n", default_power, over=0.0)
    c = at.number("dp_ref_Pa", least=0.0) / at.size("Q_ref_m3_s") ** power / at.size("rho_ref", 1000.0)
    piece.powers.append((c, power))


def pieces(elements, waters: Waters, has_thermostat: bool) -> list[Piece]:
    """A branch's elements, those of one temperature together."""
    row = [Piece()]
    for _, at in elements:
        kind = at.word("type")
        apart = kind == "cooler" or (kind == "component" and at.number("Q_W", 0.0) != 0.0)
        if apart or row[-1].has_heat():
            row.append(Piece())
        piece = row[-1]
        if kind == "pipe":
            at.only("type", "id", "D_m", "L_m", "eps_m", "f_darcy", "K", "fittings", "n")
            bore, count = at.size("D_m"), at.size("n", 1.0)
            fixed = at.number("f_darcy", least=0.0) if at.has("f_darcy") else None
            rough = at.number("eps_m", least=0.0) if fixed is None else at.number("eps_m", 0.0, least=0.0)
            piece.pipes.append(Pipe(bore, at.number("L_m", least=0.0), rough, count, area(bore), fixed))
            k = at.number("K", 0.0, least=0.0)
            if at.has("fittings"):
                counts = at.get("fittings")
                k += sum(fitting_k(counts, name, bore) * counts.number(name, least=0.0) for name in counts.value)
            piece.add(k, count * area(bore))
        elif kind == "K":
            at.only("type", "id", "K", "D_m")
            piece.add(at.number("K", least=0.0), area(at.size("D_m")))
        elif kind == "fitting":
            at.only("type", "id", "kind", "D_m", "count", "r_D")
            bore = at.size("D_m")
            piece.add(fitting_k(at, at.word("kind"), bore) * at.number("count", 1.0, least=0.0), area(bore))
        elif kind == "valve":
            at.only("type", "id", "kind", "D_m", "D_bore_m", "angle_deg")
            piece.add(valve_k(at), area(at.size("D_m")))
        elif kind == "reducer":
            at.only("type", "id", "D1_m", "D2_m", "angle_deg")
            one, other, angle = at.size("D1_m"), at.size("D2_m"), at.number("angle_deg", over=0.0)
            small, large = min(one, other), max(one, other)
            piece.forth += step_k(small, large, angle, other < one) / area(small) ** 2
            piece.back += step_k(small, large, angle, other > one) / area(small) ** 2
        elif kind == "component":
            at.only("type", "id", "dp_ref_Pa", "Q_ref_m3_s", "n", "rho_ref", "Q_W")
            rated(at, piece)
            piece.heat = at.number("Q_W", 0.0)
        elif kind == "pump":
            at.only("type", "id", "curve", "speed_rpm", "ref_speed_rpm")
            piece.pumps.append(Pump(at))
        elif kind == "thermostat":
            at.only("type", "id", "role", "D_m", "K_open", "leak", "closes")
            if not has_thermostat:
                raise at.fault("the case has no thermostat that says where it senses")
            main = at.word("role", ["main", "bypass"]) == "main"
            fully = at.number("K_open", least=0.0) / area(at.size("D_m")) ** 2
            leak = at.number("leak", 0.0, least=0.0)
            if leak > 1.0:
                raise at.get("leak").fault("should be 0 to 1")
            piece.thermostats.append((main, fully, leak, at.yes("closes", True)))
        elif kind == "cooler":
            which = at.word("kind", ["keel_pipe", "skin_tank", "exchanger", "sink"])
            if which in ("keel_pipe", "skin_tank"):
                piece.cooler = HullCooler(at, waters, piece)
            else:
                piece.cooler = Exchanger(at, waters) if which == "exchanger" else Sink(at)
                rated(at, piece)
        else:
            raise at.fault(f"{kind!r} is no element")
    return row
