"""The whole problem: flows, pressures, temperatures and the thermostat's lift in one Newton iteration."""

import math

import numpy
from scipy.optimize import brentq

import net_fluids
import net_graph
from net_case import At, Fault
from net_flow import FLOOR, Flow
from net_parts import G, Waters, pieces

# Flow and temperature steps of the slopes by differences.
STEP_M, STEP_T, STEP_X = 1e-6, 1e-3, 1e-6
# So near, in K, the sensed water is to be to what the lift wants before Newton takes all together.
NEAR = 2.0


class Branch:
    def __init__(self, name: str, tail: int, head: int, closed: bool, row) -> None:
        self.name, self.tail, self.head, self.closed, self.pieces = name, tail, head, closed, row
        self.back = row[::-1]
        self.still = False
        self.has_thermostat = any(piece.thermostats for piece in row)
        self.is_driven = any(pump.ratio > 0.0 for piece in row for pump in piece.pumps)
        self.heat = sum(piece.heat for piece in row)
        self.has_heat = any(piece.heat != 0.0 for piece in row)
        self.coolers = [piece.cooler for piece in row if piece.cooler is not None]

    def run(self, m: float, inlet: float, lift: float, table):
        """Gain less loss, loss, the heat carried out in W, and the temperature of what leaves."""
        flow = abs(m)
        energy = flow * table.h(inlet)
        t, net, lost = inlet, 0.0, 0.0
        for piece in self.pieces if m >= 0.0 else self.back:
            mean = t
            if piece.heat != 0.0:
                energy += piece.heat
                # Water that hardly moves would come out endlessly hot; the tables end before that.
                left = table.t(energy / flow, t) if flow > 1e-7 else t
                mean, t = (t + left) / 2.0, left
            elif piece.cooler is not None:
                taken, left = piece.cooler.heat(flow, t, table)
                energy -= taken
                mean, t = (t + left) / 2.0, left
            rho, mu, _, _ = table.at(mean)
            loss, gain = piece.drop(m, rho, mu, lift)
            lost += loss
            net += gain - loss
        return net, lost, energy, t


class Net:
    """A case, ready to be solved."""

    def __init__(self, case: At) -> None:
        case.only("name", "coolant", "nodes", "fixed", "inflow_m3_s", "isothermal_C", "thermostat", "hydrostatic_T_C", "property_pressure_Pa_abs", "branches")
        self.isothermal = case.number("isothermal_C") if case.has("isothermal_C") else None
        self.read_coolant(case)
        self.names = [name for name, _ in case.items("nodes")]
        number = {name: i for i, name in enumerate(self.names)}
        self.z = numpy.array([at.number("z_m", 0.0) for _, at in case.items("nodes")])
        count = len(self.names)

        def node(at: At, key: str) -> int:
            name = at.word(key)
            if name not in number:
                raise at.get(key).fault(f"no node is called {name!r}")
            return number[name]

        self.fixed_pressure, self.is_fixed = numpy.zeros(count), numpy.zeros(count, dtype=bool)
        for name, at in case.items("fixed") if case.has("fixed") else []:
            if name not in number:
                raise at.fault("no node is called so")
            self.fixed_pressure[number[name]] = at.number("p_gauge_Pa")
            self.is_fixed[number[name]] = True
        self.inflow = numpy.zeros(count)
        for name, at in case.items("inflow_m3_s") if case.has("inflow_m3_s") else []:
            if name not in number:
                raise at.fault("no node is called so")
            if self.isothermal is None:
                raise at.fault("an inflow needs isothermal_C: its temperature is not given")
            self.inflow[number[name]] = case.get("inflow_m3_s").number(name)
        self.sense = None
        if case.has("thermostat"):
            at = case.get("thermostat")
            at.only("sense_node", "T_open_C", "T_full_C")
            self.sense = node(at, "sense_node")
            self.opens, self.full = at.number("T_open_C"), at.number("T_full_C")
            if self.full <= self.opens:
                raise at.get("T_full_C").fault("should be over T_open_C")
        waters = Waters()
        self.branches: list[Branch] = []
        for _, at in case.items("branches"):
            at.only("id", "from", "to", "closed", "elements")
            row = pieces(at.items("elements"), waters, self.sense is not None)
            self.branches.append(Branch(at.word("id"), node(at, "from"), node(at, "to"), at.yes("closed", False), row))
            if self.branches[-1].name in [branch.name for branch in self.branches[:-1]]:
                raise at.get("id").fault("two branches are called so")
        self.tails = numpy.array([branch.tail for branch in self.branches], dtype=int)
        self.heads = numpy.array([branch.head for branch in self.branches], dtype=int)
        self.rho_static = self.table.at(case.number("hydrostatic_T_C", 80.0 if self.isothermal is None else self.isothermal))[0]
        self.find_active()

    def read_coolant(self, case: At) -> None:
        at = case.get("coolant")
        kind = at.word("type", ["water", "MEG", "MPG", "constant"])
        pressure = case.number("property_pressure_Pa_abs", 2e5, over=0.0)
        self.boiling = None
        if kind == "constant":
            at.only("type", "rho", "mu", "cp", "k")
            self.table = net_fluids.constant(at.size("rho"), at.size("mu"), at.size("cp", 4000.0), at.size("k", 0.5))
            return
        fraction = 0.0
        if kind == "water":
            at.only("type")
            self.table = net_fluids.water(pressure)
        else:
            at.only("type", "mass_fraction", "volume_fraction")
            if at.has("mass_fraction") == at.has("volume_fraction"):
                raise at.fault("should have one of mass_fraction and volume_fraction")
            by_mass = at.has("mass_fraction")
            given = at.number("mass_fraction" if by_mass else "volume_fraction", least=0.0)
            fraction = given if by_mass else net_fluids.mass_fraction(kind, given)
            if fraction > 0.6:
                raise at.fault(f"is {fraction:.3f} by mass; the properties end at 0.6")
            self.table = net_fluids.glycol(kind, fraction, pressure)
        self.boiling = net_fluids.Boiling(kind, fraction)

    def find_active(self) -> None:
        """Which branches may carry water, and which nodes have a pressure."""
        count = len(self.names)
        opened = [i for i, branch in enumerate(self.branches) if not branch.closed]
        ends = [(self.branches[i].tail, self.branches[i].head) for i in opened]
        tied = [n for n in range(count) if self.is_fixed[n] or self.inflow[n] != 0.0]
        edges = ends + [(n, count) for n in tied]
        moves = set()
        for block in net_graph.blocks(count + 1, edges):
            to_ground = any(edge >= len(opened) for edge in block) and len(block) > 1
            pumped = any(edge < len(opened) and self.branches[opened[edge]].is_driven for edge in block)
            # One bridge with a pump in it drives nothing, unless it leads from a node to itself.
            loops = len(block) > 1 or edges[block[0]][0] == edges[block[0]][1]
            if loops and (to_ground or pumped):
                moves.update(opened[edge] for edge in block if edge < len(opened))
        for i, branch in enumerate(self.branches):
            branch.still = i not in moves
        self.part = net_graph.parts(count, ends)
        referred = {self.part[n] for n in range(count) if self.is_fixed[n]}
        self.touched = {n for pair in ends for n in pair}
        self.has_pressure = [self.part[n] in referred and (n in self.touched or bool(self.is_fixed[n])) for n in range(count)]
        self.active = [i for i in opened if self.has_pressure[self.branches[i].tail]]
        self.free = numpy.array([n for n in range(count) if self.has_pressure[n] and not self.is_fixed[n]], dtype=int)
        self.moving = [i for i in self.active if not self.branches[i].still]
        self.why_not = self.fault(moves, referred)

    def fault(self, moves, referred):
        """Status and reason where there is nothing to solve, or None."""
        for n, name in enumerate(self.names):
            if self.inflow[n] != 0.0 and self.part[n] not in referred:
                return "unsolvable", f"{name} has an imposed inflow, but its part has no fixed node"
        for i in sorted(moves):
            branch = self.branches[i]
            if self.part[branch.tail] not in referred:
                return "unsolvable", f"{branch.name} carries water, but its part has no pressure reference"
        if self.isothermal is not None:
            return None
        for branch in self.branches:
            if branch.has_heat and (branch.still or branch.closed):
                return "no_steady_state", f"heat goes into {branch.name}, where no water moves"
        moving = [self.branches[i] for i in self.moving]
        groups = net_graph.parts(len(self.names), [(branch.tail, branch.head) for branch in moving])
        for group in sorted({groups[branch.tail] for branch in moving}):
            inside = [branch for branch in moving if groups[branch.tail] == group]
            tied = sum(self.is_fixed[n] for n in {n for branch in inside for n in (branch.tail, branch.head)})
            if tied > 1:
                return "unsolvable", "water may come in at several fixed nodes; its temperature is not given"
            if any(cooler.takes() for branch in inside for cooler in branch.coolers):
                continue
            if sum(branch.heat for branch in inside) != 0.0:
                return "no_steady_state", f"heat is added in the part with {inside[0].name}, and nothing takes it away"
            return "unsolvable", f"nothing sets the temperature of the part with {inside[0].name}"
        if not moving:
            return "unsolvable", "nothing moves and nothing sets the temperature"
        return None

    # Solving.

    def solve(self) -> dict:
        """From a cold start each time: nothing is kept of an earlier solve."""
        if self.why_not is not None:
            return self.empty(*self.why_not)
        if not self.active:
            return self.result({}, self.fixed_pressure, self.isothermal, self.lift(self.isothermal), "solved", None)
        if self.isothermal is not None:
            lift = self.lift(self.isothermal)
            found = Flow(self, self.isothermal, lift or 0.0).solve()
            if found is None:
                return self.empty("unsolvable", "the iteration did not settle")
            m, p, loss = found
            states = {i: (float(m[j]), self.isothermal, self.isothermal, float(loss[j])) for j, i in enumerate(self.active)}
            return self.result(states, p, self.isothermal, lift, "solved", None)
        return Heated(self).solve()

    def lift(self, celsius: float):
        if self.sense is None:
            return None
        return min(max((celsius - self.opens) / (self.full - self.opens), 0.0), 1.0)

    def empty(self, status: str, why: str) -> dict:
        return {"nodes": {}, "branches": {}, "thermostat_lift": None, "status": status, "why": why}

    def result(self, states, p, temperatures, lift, status, why) -> dict:
        """`temperatures` is one number, or one for each node with None where it is not determined."""
        level = [temperatures] * len(self.names) if not isinstance(temperatures, list) else temperatures
        nodes = {}
        gauges = [gauge if known else None for gauge, known in zip(p.tolist(), self.has_pressure)]
        boils = self.boiling.all(gauges) if self.boiling is not None else [None] * len(gauges)
        for n, name in enumerate(self.names):
            nodes[name] = {"p_gauge_Pa": gauges[n], "T_C": level[n], "T_boil_C": boils[n]}
        branches = {}
        for i, branch in enumerate(self.branches):
            m, t_in, t_out, loss = states.get(i, (0.0, self.isothermal, self.isothermal, 0.0))
            branches[branch.name] = {"m_kg_s": m, "T_in_C": t_in, "T_out_C": t_out, "dp_loss_Pa": loss}
        return {"nodes": nodes, "branches": branches, "thermostat_lift": lift, "status": status, "why": why}


class Heated:
    """The iteration where heat goes along: unknowns are flows, pressures, temperatures and lift."""

    def __init__(self, net: Net) -> None:
        self.net, self.table = net, net.table
        self.on = [net.branches[i] for i in net.active]
        self.nodes = [n for n in range(len(net.names)) if net.has_pressure[n]]
        self.column_t, self.column_p = {}, {}
        at = len(self.on)
        for n in net.free.tolist():
            self.column_p[n] = at
            at += 1
        for n in self.nodes:
            self.column_t[n] = at
            at += 1
        self.column_x = at if net.sense is not None else None
        self.size = at + (net.sense is not None)
        self.held = None
        for branch in net.branches:
            for cooler in branch.coolers:
                cooler.forget()

    def start(self):
        """Flows and pressures at one temperature, then temperatures at those flows."""
        net = self.net
        if net.sense is not None:
            level = (net.opens + net.full) / 2.0
        else:
            level = 15.0 + max(cooler.sea for branch in self.on for cooler in branch.coolers)
        y = numpy.full(self.size, level)
        ts = slice(self.column_t[self.nodes[0]], self.column_t[self.nodes[-1]] + 1)

        def over(root: float) -> float:
            """By how much the sensed water is hotter than a lift wants it; the lift is root cubed."""
            lift = root**3
            found = Flow(net, level, lift).solve()
            if found is None:
                y[: len(self.on)] = [0.0 if branch.still else 0.1 for branch in self.on]
                p = net.fixed_pressure
            else:
                m, p, _ = found
                y[: len(self.on)] = m
            for n, column in self.column_p.items():
                y[column] = p[n]
            if self.column_x is not None:
                y[self.column_x] = lift
            for _ in range(4):
                miss, slopes = self.system(y, True)
                # Rows of energy stand where the columns of temperature do.
                step = numpy.linalg.solve(slopes[ts, ts], -miss[ts])
                y[ts] = numpy.clip(y[ts] + numpy.clip(step, -60.0, 60.0), self.table.low, self.table.high)
                if numpy.max(numpy.abs(step)) < 2.0:
                    break
            if self.column_x is None:
                return 0.0
            return y[self.column_t[net.sense]] - net.opens - lift * (net.full - net.opens)

        # The opening's loss goes with one over its square; over its cube root the lift is found in a
        # few turns of the false position, near enough for Newton to take over.
        here = over(0.5)
        other_end = 1.0 if here > 0.0 else 0.0
        if abs(here) > NEAR:
            there = over(other_end)
            if here * there < 0.0:
                ends = [(0.5, here), (other_end, there)]
                for _ in range(8):
                    (a, fa), (b, fb) = ends
                    middle = min(max(b - fb * (b - a) / (fb - fa), min(a, b) + 0.1 * abs(b - a)), max(a, b) - 0.1 * abs(b - a))
                    value = over(middle)
                    if abs(value) < NEAR:
                        break
                    if value * fb < 0.0:
                        ends = [(b, fb), (middle, value)]
                    else:
                        ends = [(a, fa / 2.0), (middle, value)]
        return y

    def system(self, y, with_slopes: bool):
        """What is to be zero, scaled row by row, and its slopes."""
        net, table, on = self.net, self.table, self.on
        values = y.tolist()
        miss = [0.0] * self.size
        slopes = numpy.zeros((self.size, self.size)) if with_slopes else None
        lift = 0.0 if self.column_x is None else values[self.column_x]
        carried = 0.0
        enthalpies = {n: table.h(values[c]) for n, c in self.column_t.items()}
        for j, branch in enumerate(on):
            m, tail, head = values[j], branch.tail, branch.head
            p_tail = values[self.column_p[tail]] if tail in self.column_p else net.fixed_pressure[tail]
            p_head = values[self.column_p[head]] if head in self.column_p else net.fixed_pressure[head]
            column = net.rho_static * G * (net.z[tail] - net.z[head])
            if tail in self.column_p:
                miss[self.column_p[tail]] -= m
            if head in self.column_p:
                miss[self.column_p[head]] += m
            if with_slopes:
                for n, sign in ((tail, 1.0), (head, -1.0)):
                    if n in self.column_p:
                        slopes[j, self.column_p[n]] += 1e-4 * sign
                        slopes[self.column_p[n], j] -= sign
            if branch.still:
                net_gain = sum(piece.drop(0.0, net.rho_static, 1e-3, lift)[1] for piece in branch.pieces)
                miss[j] = 1e-4 * (p_tail - p_head + column + net_gain - 1e6 * m)
                if with_slopes:
                    slopes[j, j] = -100.0
                continue
            forward = m >= 0.0
            source, goal = (tail, head) if forward else (head, tail)
            t = values[self.column_t[source]]
            gain, _, energy, _ = branch.run(m, t, lift, table)
            miss[j] = 1e-4 * (p_tail - p_head + column + gain)
            row = self.column_t[goal]
            flow, enthalpy = abs(m), enthalpies[goal]
            miss[row] += 1e-4 * (energy - flow * enthalpy)
            carried = max(carried, flow)
            if with_slopes:
                sign = 1.0 if forward else -1.0
                d = sign * STEP_M * max(flow, 1e-3)
                g, _, e, _ = branch.run(m + d, t, lift, table)
                slope = (g - gain) / d
                slopes[j, j] = 1e-4 * min(slope, -FLOOR)
                slopes[row, j] += 1e-4 * ((e - energy) / d - sign * enthalpy)
                g, _, e, _ = branch.run(m, t + STEP_T, lift, table)
                slopes[j, self.column_t[source]] = 1e-4 * (g - gain) / STEP_T
                slopes[row, self.column_t[source]] += 1e-4 * (e - energy) / STEP_T
                slopes[row, row] -= 1e-4 * flow * table.at(values[row])[2]
                if branch.has_thermostat and self.column_x is not None:
                    # Towards the middle, so that the step does not leave 0 to 1 and find no slope.
                    d = STEP_X if lift < 0.5 else -STEP_X
                    g, _, e, _ = branch.run(m, t, lift + d, table)
                    slopes[j, self.column_x] = 1e-4 * (g - gain) / d
                    slopes[row, self.column_x] += 1e-4 * (e - energy) / d
        if with_slopes:
            # A node past which nothing flows has no temperature: it keeps the one it has.
            for column in self.column_t.values():
                slopes[column, column] -= 1e-8
        if self.column_x is not None:
            row = self.column_x
            if self.held is not None:
                wish, steep = self.held, 0.0
            else:
                share = (values[self.column_t[net.sense]] - net.opens) / (net.full - net.opens)
                wish = min(max(share, 0.0), 1.0)
                steep = 1.0 / (net.full - net.opens) if 0.0 < share < 1.0 else 0.0
            miss[row] = lift - wish
            if with_slopes:
                slopes[row, row] = 1.0
                slopes[row, self.column_t[net.sense]] -= steep
        self.carried = carried
        return numpy.array(miss), slopes

    def hold_lift(self, y, trial) -> None:
        """Loss goes with one over the square of the opening: no step may leave it less than a third."""
        if self.column_x is None or self.held is not None:
            return
        x = min(max(y[self.column_x], 0.0), 1.0)
        low = x / 3.0 if x > 0.02 else 0.0
        high = 1.0 - (1.0 - x) / 3.0 if x < 0.98 else 1.0
        trial[self.column_x] = min(max(trial[self.column_x], low), high)

    def newton(self, y, most: int = 80):
        """The settled unknowns, or None."""
        table = self.table
        ts = slice(self.column_t[self.nodes[0]], self.column_t[self.nodes[-1]] + 1)
        miss, slopes = self.system(y, True)
        for _ in range(most):
            try:
                step = numpy.linalg.solve(slopes, -miss)
            except numpy.linalg.LinAlgError:
                return None
            if not numpy.all(numpy.isfinite(step)):
                return None
            share = min(1.0, 25.0 / max(numpy.max(numpy.abs(step[ts])), 1e-9))
            before = numpy.linalg.norm(miss)
            for halving in range(6):
                trial = y + share * step
                trial[ts] = numpy.clip(trial[ts], table.low - 20.0, table.high + 150.0)
                self.hold_lift(y, trial)
                # Nearly always the first is taken, so its slopes are found at once.
                after, slopes = self.system(trial, halving == 0)
                if numpy.linalg.norm(after) < (1.0 - 0.1 * share) * before:
                    break
                share /= 2.0
            y = trial
            ends = len(self.on)
            small = (
                numpy.max(numpy.abs(step[:ends])) < 1e-8 * (1e-3 + self.carried)
                and numpy.max(numpy.abs(step[ts])) < 1e-6
                and numpy.linalg.norm(after) < 1e-6
            )
            if small and share == 1.0 and self.column_x is not None:
                small = abs(step[self.column_x]) < 1e-8
            if small and share == 1.0:
                return y
            if numpy.linalg.norm(after) < 1e-10:
                return y
            miss, slopes = (after, slopes) if slopes is not None else self.system(y, True)
        return None

    def by_lift(self, y):
        """Where the whole does not settle: the lift by bracketing, all else by Newton for each."""
        net = self.net
        last = [y]

        def miss(lift: float) -> float:
            self.held = lift
            trial = last[0].copy()
            trial[self.column_x] = lift
            found = self.newton(trial, 200)
            if found is None:
                raise ArithmeticError
            last[0] = found
            return net.lift(found[self.column_t[net.sense]]) - lift

        try:
            lift = 0.0 if miss(0.0) <= 0.0 else 1.0 if miss(1.0) >= 0.0 else brentq(miss, 0.0, 1.0, xtol=1e-12)
            miss(lift)
        except ArithmeticError:
            return None
        return last[0]

    def solve(self) -> dict:
        net = self.net
        begun = self.start()
        y = self.newton(begun.copy())
        if y is None and self.column_x is not None:
            y = self.by_lift(begun)
        if y is None:
            return net.empty("unsolvable", "the iteration did not settle")
        values = y.tolist()
        lift = 0.0 if self.column_x is None else values[self.column_x]
        # Nothing flows past a node that only still branches touch: its temperature is not determined.
        passed = {n for branch in self.on if not branch.still for n in (branch.tail, branch.head)}
        level = [values[self.column_t[n]] if n in passed else None for n in range(len(net.names))]
        p = net.fixed_pressure.copy()
        for n, column in self.column_p.items():
            p[n] = values[column]
        states, seen = {}, [t for t in level if t is not None]
        for j, i in enumerate(net.active):
            branch, m = net.branches[i], values[j]
            if branch.still:
                states[i] = (0.0, None, None, 0.0)
                continue
            t = values[self.column_t[branch.tail if m >= 0.0 else branch.head]]
            _, loss, _, left = branch.run(m, t, lift, self.table)
            states[i] = (m, t, left, loss)
            seen.append(left)
        table = self.table
        hottest, coldest = max(seen), min(seen)
        if hottest > table.high or coldest < table.low:
            far = hottest if hottest > table.high else coldest
            return net.empty("unsolvable", f"the water would reach {far:.0f} °C, where no properties are known")
        why = None
        if not (table.is_sure(hottest) and table.is_sure(coldest)):
            why = f"{coldest:.1f} to {hottest:.1f} °C go beyond the properties' range, {table.sure[0]:.1f} to {table.sure[1]:.1f} °C"
        return net.result(states, p, level, net.lift(values[self.column_t[net.sense]]) if net.sense is not None else None, "solved", why)


__all__ = ["Fault", "Net"]
