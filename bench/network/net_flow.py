"""Flows and pressures at one temperature: Newton on all branches at once, as arrays.

The step is that of Todini & Pilati 1988: the flows are eliminated, and what is left is a symmetric
system for the pressures.
"""

import math

import numpy
from scipy import sparse
from scipy.sparse.linalg import splu

from net_parts import G, opening

# Least slope of a branch in Pa s/kg, so that a still branch of plain K leaves the system regular. It
# stands in the matrix only, not in what is to be zero.
FLOOR = 10.0


class Flow:
    """The arrays of a network at one temperature and lift."""

    def __init__(self, net, celsius: float, lift: float) -> None:
        self.net = net
        self.rho, self.mu, _, _ = net.table.at(celsius)
        active = net.active
        place = {branch: i for i, branch in enumerate(active)}
        self.count = len(active)
        self.forth, self.back = numpy.zeros(self.count), numpy.zeros(self.count)
        rows, powers, self.pumps = [], [], []
        self.still = numpy.array([net.branches[b].still for b in active], dtype=bool)
        self.start = numpy.full(self.count, 0.1)
        for b in active:
            i, least = place[b], math.inf
            for piece in net.branches[b].pieces:
                k = sum(full / opening(main, leak, closes, lift) ** 2 for main, full, leak, closes in piece.thermostats)
                self.forth[i] += piece.forth + k
                self.back[i] += piece.back + k
                rows += [(i, pipe) for pipe in piece.pipes]
                powers += [(i, c, n) for c, n in piece.powers]
                self.pumps += [(i, pump) for pump in piece.pumps]
                least = min([least, *(pipe.A for pipe in piece.pipes)])
            if least < math.inf:
                self.start[i] = 0.5 * self.rho * least
            elif self.forth[i] > 0.0:
                self.start[i] = math.sqrt(2.0 * self.rho * 5000.0 / self.forth[i])
        self.start[self.still] = 0.0
        self.b = numpy.array([i for i, _ in rows], dtype=int)
        self.per_mu = numpy.array([pipe.per_mu for _, pipe in rows]) / self.mu
        self.coefficient = numpy.array([pipe.coefficient for _, pipe in rows]) / self.rho
        self.rough = numpy.array([pipe.eD for _, pipe in rows]) / 3.7
        self.f4000 = numpy.array([pipe.f4000 for _, pipe in rows])
        self.given = numpy.array([math.nan if pipe.fixed is None else pipe.fixed for _, pipe in rows])
        self.is_given = ~numpy.isnan(self.given)
        self.pb = numpy.array([i for i, _, _ in powers], dtype=int)
        self.pn = numpy.array([n for _, _, n in powers])
        self.pc = numpy.array([c * self.rho ** (1.0 - n) for _, c, n in powers])
        self.lift_of_column = net.rho_static * G * (net.z[net.tails[active]] - net.z[net.heads[active]])

    def friction(self, re):
        """The factor times Re², and its slope in Re: what stays finite in water that stands."""
        r = numpy.maximum(re, 4000.0)
        # Colebrook in x = 1/sqrt f from Haaland's value by Newton; four steps reach rounding.
        x = -1.8 * numpy.log10(self.rough**1.11 + 6.9 / r)
        c = 2.0 / math.log(10.0)
        for _ in range(4):
            inner = self.rough + 2.51 * x / r
            x -= (x + c * numpy.log(inner)) / (1.0 + c * 2.51 / (r * inner))
        inner = self.rough + 2.51 * x / r
        slope_x = c * 2.51 * x / (inner * r**2) / (1.0 + c * 2.51 / (inner * r))
        f, slope_f = x**-2, -2.0 * slope_x * x**-3
        between = re < 4000.0
        steep = (self.f4000 - 0.032) / 2000.0
        f = numpy.where(between, 0.032 + steep * (re - 2000.0), f)
        slope_f = numpy.where(between, steep, slope_f)
        f = numpy.where(self.is_given, self.given, f)
        slope_f = numpy.where(self.is_given, 0.0, slope_f)
        value, slope = f * re**2, slope_f * re**2 + 2.0 * f * re
        laminar = (re <= 2000.0) & ~self.is_given
        return numpy.where(laminar, 64.0 * re, value), numpy.where(laminar, 64.0, slope)

    def drops(self, m):
        """Loss, gain and the slope of loss less gain, for each branch."""
        flow = numpy.abs(m)
        k = numpy.where(m >= 0.0, self.forth, self.back) / (2.0 * self.rho)
        loss, slope = k * flow, 2.0 * k * flow
        loss *= flow
        if self.b.size:
            value, steep = self.friction(flow[self.b] * self.per_mu)
            scale = self.coefficient / self.per_mu**2
            loss += numpy.bincount(self.b, scale * value, self.count)
            slope += numpy.bincount(self.b, scale * self.per_mu * steep, self.count)
        if self.pb.size:
            part = flow[self.pb]
            loss += numpy.bincount(self.pb, self.pc * part**self.pn, self.count)
            slope += numpy.bincount(self.pb, self.pn * self.pc * part ** (self.pn - 1.0), self.count)
        loss = numpy.copysign(loss, m)
        gain = numpy.zeros(self.count)
        for i, pump in self.pumps:
            q = m[i] / self.rho
            step = 1e-6 * max(abs(q), 1e-5)
            head = pump.head(q)
            gain[i] += self.rho * G * head
            slope[i] -= G * (pump.head(q + step) - head) / step
        return loss, gain, slope

    def solve(self):
        """Flows of the active branches and pressures of the nodes, or None where it does not settle."""
        net = self.net
        tails, heads = net.tails[net.active], net.heads[net.active]
        p = net.fixed_pressure.copy()
        # Nodes begin at the pressure of standing water below their part's fixed node.
        p[net.free] = numpy.mean(p[net.is_fixed]) if net.is_fixed.any() else 0.0
        column = numpy.full(net.z.size, -1)
        column[net.free] = numpy.arange(net.free.size)
        signs, rows, cols = [], [], []
        for ends, sign in ((tails, -1.0), (heads, 1.0)):
            inside = column[ends] >= 0
            rows.append(column[ends][inside])
            cols.append(numpy.flatnonzero(inside))
            signs.append(numpy.full(inside.sum(), sign))
        incidence = sparse.csr_array((numpy.concatenate(signs), (numpy.concatenate(rows), numpy.concatenate(cols))), shape=(net.free.size, self.count))
        small = net.free.size < 60
        if small:
            incidence = incidence.toarray()
        inflow = net.inflow[net.free] * self.rho
        m = self.start.copy()
        loss, gain, slope = self.drops(m)
        miss = self.residual(p, tails, heads, loss, gain, m)
        for _ in range(100):
            steep = numpy.where(self.still, 1e6, numpy.maximum(slope, FLOOR))
            right = incidence @ (m + miss / steep) + inflow
            if net.free.size == 0:
                up = numpy.zeros(0)
            elif small:
                up = numpy.linalg.solve((incidence / steep) @ incidence.T, right)
            else:
                up = splu((incidence @ sparse.diags_array(1.0 / steep) @ incidence.T).tocsc(), permc_spec="MMD_AT_PLUS_A", options=dict(SymmetricMode=True)).solve(right)
            change = numpy.zeros(p.size)
            change[net.free] = up
            step = (miss + change[tails] - change[heads]) / steep
            share, before = 1.0, numpy.linalg.norm(miss)
            for _ in range(6):
                trial, pressures = m + share * step, p + share * change
                loss, gain, slope = self.drops(trial)
                after = self.residual(pressures, tails, heads, loss, gain, trial)
                # The first steps may worsen the branches while they mend the balance of the nodes.
                if numpy.linalg.norm(after) <= 2.0 * before or share < 0.05:
                    break
                share /= 2.0
            m, p, miss = trial, pressures, after
            scale = 1.0 + max(numpy.max(numpy.abs(loss)), numpy.max(numpy.abs(gain)))
            balance = numpy.max(numpy.abs(incidence @ m + inflow), initial=0.0)
            if numpy.max(numpy.abs(miss)) < 1e-9 * scale and balance < 1e-9 * (1e-3 + numpy.max(numpy.abs(m))):
                m[self.still] = 0.0
                return m, p, loss
        return None

    def residual(self, p, tails, heads, loss, gain, m):
        miss = p[tails] - p[heads] + self.lift_of_column + gain - loss
        # A still branch passes pressure on and carries nothing: a straight resistance that the
        # balance of the nodes leaves without flow.
        return numpy.where(self.still, p[tails] - p[heads] + self.lift_of_column + gain - 1e6 * m, miss)
