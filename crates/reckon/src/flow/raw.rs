//! The raw-water side of an exchanger: what runs in it, what each of its parts takes, and the pressure along it
//! from the sea to the exhaust. Its pump pushes a volume, whatever stands against it; so the pressures ahead of
//! the pump follow from the sea's, and those behind it from where the water goes out.

use std::f64::consts::PI;

use boat::{Assume, Boat, Carries, PieceKind, Thing, ThingKind};
use quantity::{Quantity, VolumeFlow};

use super::desk::{Desk, PRACTICE};
use super::draw::si;
use super::heat::Asked;
use super::pieces::{bores, chain, lay};
use crate::solve::net::{GRAVITY, Law, Medium, Part, Pipe, Props};
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::flow::{CoolerRow, ItemRow, RawPlace, RawRow};
use crate::verdict::Words;

/// The speed of raw water to which its hoses are sized [m/s]; what a strainer or an oil cooler takes is told at it,
/// where no sheet is at hand. Common practice, no source.
const SIZED: f64 = 2.5;

/// The raw water of a state.
#[derive(Clone, Copy, Debug)]
pub(super) struct Runs {
    /// How much of it runs [m³/s].
    pub(super) flow: f64,
    /// That is what the state tells.
    pub(super) bucket: bool,
    /// What the sheet of the pump gives at this speed of the engine [m³/s], where it is written.
    pub(super) gives: Option<f64>,
}

/// Whether raw water can come to an exchanger.
pub(super) fn reaches(plan: &Plan) -> bool {
    let wet = plan.with_raw_water_at_best();
    plan.nodes.iter().zip(&wet).any(|(node, wet)| {
        let Site::Thing(thing) = node.site else {
            return false;
        };
        *wet && plan.facts.things[thing].is(ThingKind::Exchanger)
    })
}

/// Raw water in a state: as told for it, where the pump is the one that it was told of; else what the pump gives.
/// Nought where none can come to the exchanger.
pub(super) fn flow(desk: &Desk, plan: &Plan, boat: &Boat, asked: &Asked) -> Option<Runs> {
    let is_pump = |thing: &&Thing| thing.kind.given() == Some(&ThingKind::RawWaterPump);
    let mut on_way = way(plan).things.into_iter();
    let on_way = on_way.find_map(|thing| Some(plan.facts.things[thing].thing).filter(is_pump));
    let pump = on_way.or_else(|| desk.arranged.boat.things.iter().find(is_pump));
    let was = boat.things.iter().find(is_pump);
    let same = pump.map(|pump| &pump.key) == was.map(|was| &was.key);
    let gives = pump.and_then(|pump| {
        let gives = pump.detail.duty.gives.given()?;
        let scale = gives.at.map_or(1.0, |at| asked.revs / at.value.si());
        Some(gives.flow.value.si() * scale)
    });
    let told = asked.raw.filter(|_| same);
    if !reaches(plan) {
        return Some(Runs {
            flow: 0.0,
            bucket: false,
            gives,
        });
    }
    Some(Runs {
        flow: told.or(gives)?,
        bucket: told.is_some(),
        gives,
    })
}

/// What the raw water meets on its way.
enum Step {
    /// A joint, with its height [m] and the bore there [m].
    At(RawPlace, Option<f64>, Option<f64>),
    /// A piece or a thing that takes of the pressure; `None` where it is not known how much.
    Takes(ItemRow, Option<f64>),
    /// A break of the siphon, its top at a height [m] in a bore [m]: where the water would stand under the air
    /// outside it lets air in.
    Break(Option<f64>, Option<f64>),
    /// The pump.
    Pump,
}

/// The way of the raw water, while it is walked.
struct Walk<'a, 'b> {
    desk: Desk<'a>,
    plan: &'b Plan<'b>,
    props: Props<f64>,
    /// Flow [m³/s].
    flow: f64,
    /// The bore in which the water comes to the next thing [m].
    bore: Option<f64>,
    /// Temperature of the water as it goes along [°C].
    t: f64,
    steps: Vec<Step>,
}

/// What warms the raw water.
pub(super) struct Warms<'a> {
    /// The sea [°C].
    pub(super) sea: f64,
    /// How much the gearbox warms it on its way [K].
    pub(super) gearbox: f64,
    /// The coolers of the closed side.
    pub(super) coolers: &'a [CoolerRow],
}

/// The raw-water side in a state, and what each of its parts takes.
pub(super) fn side(
    desk: &mut Desk,
    plan: &Plan,
    sea: &Medium,
    runs: Runs,
    warms: &Warms,
) -> (RawRow, Vec<ItemRow>) {
    let flow = runs.flow;
    let props = sea.at(warms.sea);
    let way = way(plan);
    let pump = way
        .things
        .iter()
        .map(|thing| &plan.facts.things[*thing])
        .find(|own| own.is(ThingKind::RawWaterPump));
    let mut walk = Walk {
        desk: Desk::of(desk.arranged),
        plan,
        props,
        flow,
        bore: None,
        t: warms.sea,
        steps: Vec::new(),
    };
    let end = walk.along(&way, warms);
    let mut out = RawRow {
        flow,
        bucket: runs.bucket,
        gives: runs.gives,
        pump: pump.map(|own| own.key().to_owned()),
        over: walk.over(&way),
        ..RawRow::default()
    };
    let density = props.density;
    // What comes in over the water is air, and nothing tells how much of it.
    let begins = out.over.is_none().then_some(0.0);
    let (heads, air) = pressures(&walk.steps, density, flow, begins, end);
    if let Some(thing) = way
        .things
        .iter()
        .map(|thing| &plan.facts.things[*thing])
        .find(|own| air.is_some() && own.is(ThingKind::SiphonBreak))
    {
        walk.desk.note(Words::from(
            format!(
                "The siphon break {} lets air in while the engine runs: the raw water behind it falls by itself, and is reckoned there with the pressure of the air outside.",
                thing.key()
            )
            .as_str(),
        ));
    }
    let ahead = walk
        .steps
        .iter()
        .position(|step| matches!(step, Step::Pump));
    let mut items = Vec::new();
    for (at, (step, head)) in walk.steps.into_iter().zip(heads).enumerate() {
        match step {
            Step::At(mut place, height, bore) => {
                let speed = bore.map_or(0.0, |bore| flow / (PI / 4.0 * bore * bore));
                place.suction = ahead.is_some_and(|pump| at < pump);
                place.pressure = head
                    .zip(height)
                    .map(|(head, z)| head - density * (GRAVITY * z + 0.5 * speed * speed));
                // What falls with air in it stands at the pressure of the air.
                if air.is_some_and(|air| at > air) {
                    place.pressure = place.pressure.map(|pressure| pressure.max(0.0));
                }
                if place.suction {
                    out.inlet = place.pressure;
                } else if ahead.is_some() && out.places.iter().all(|before| before.suction) {
                    out.outlet = place.pressure;
                }
                out.places.push(place);
            }
            Step::Takes(mut row, drop) => {
                row.suction = ahead.is_some_and(|pump| at < pump);
                if let Some(drop) = drop {
                    row.drop = drop;
                    items.push(row);
                }
            }
            Step::Break(..) | Step::Pump => {}
        }
    }
    out.missing = walk.desk.missing;
    for note in walk.desk.notes {
        desk.note(note);
    }
    for assumed in walk.desk.assumed {
        if !desk.assumed.contains(&assumed) {
            desk.assumed.push(assumed);
        }
    }
    (out, items)
}

/// The way of the raw water to an exchanger: things and the runs between them, from the sea on.
#[derive(Default)]
struct Way {
    things: Vec<usize>,
    runs: Vec<usize>,
    /// It parts at its last thing.
    parts: bool,
}

/// The way that comes to an exchanger; each begins where water leaves a thing to which none comes.
fn way(plan: &Plan) -> Way {
    let facts = plan.facts;
    let wet = plan.with_raw_water_at_best();
    let raw: Vec<usize> = (0..facts.runs.len())
        .filter(|at| facts.runs[*at].run.carries == Carries::RawWater)
        .filter(|at| plan.any(Site::Run(*at), &wet))
        .collect();
    let from = |at: usize| facts.end(&facts.runs[at].run.from).map(|end| end.0);
    let to = |at: usize| facts.end(&facts.runs[at].run.to).map(|end| end.0);
    let comes = |thing: usize| raw.iter().any(|at| to(*at) == Some(thing));
    let begin = |first: usize| {
        let mut way = Way::default();
        let mut next = Some(first);
        while let Some(at) = next.take().filter(|at| !way.runs.contains(at)) {
            way.things.extend(from(at));
            way.runs.push(at);
            let Some(thing) = to(at) else { break };
            let mut leaves = raw.iter().copied().filter(|at| from(*at) == Some(thing));
            next = leaves.next();
            if next.is_none() || leaves.next().is_some() {
                way.parts = next.take().is_some();
                way.things.push(thing);
            }
        }
        way
    };
    let mut ways = raw
        .iter()
        .filter(|at| from(**at).is_some_and(|thing| !comes(thing)))
        .map(|at| begin(*at));
    let cools = |way: &Way| {
        let mut things = way.things.iter();
        things.any(|thing| facts.things[*thing].is(ThingKind::Exchanger))
    };
    ways.find(cools).unwrap_or_default()
}

/// How the way ends.
#[derive(Clone, Copy)]
enum End {
    /// In the air, at a height [m], through an opening of this bore [m].
    Free(f64, f64),
    /// In the sea, through an opening of this bore [m].
    Under(f64),
    /// Not known.
    Lost,
}

/// The total head times its weight [Pa] over the sea's level at every step, from the one at which it begins; `None`
/// where it can't be told. And the first break of the siphon that lets air in.
fn pressures(
    steps: &[Step],
    density: f64,
    flow: f64,
    begins: Option<f64>,
    end: End,
) -> (Vec<Option<f64>>, Option<usize>) {
    let taken = |step: &Step| match step {
        Step::Takes(_, drop) => *drop,
        _ => Some(0.0),
    };
    let ahead = steps.iter().position(|step| matches!(step, Step::Pump));
    let pump = ahead.unwrap_or(0);
    let mut heads = vec![None; steps.len()];
    let mut head = begins;
    for at in 0..pump {
        head = head.zip(taken(&steps[at])).map(|(head, drop)| head - drop);
        heads[at] = head;
    }
    let jet = |bore: f64| 0.5 * density * (flow / (PI / 4.0 * bore * bore)).powi(2);
    let mut head = match end {
        End::Free(z, bore) => Some(density * GRAVITY * z + jet(bore)),
        End::Under(bore) => Some(jet(bore)),
        End::Lost => None,
    };
    let mut air = None;
    for at in (pump..steps.len()).rev() {
        if let Step::Break(height, bore) = &steps[at] {
            // With the water under the air outside it lets air in until the two are even.
            let least = height.map(|z| density * GRAVITY * z + bore.map_or(0.0, jet));
            if head.zip(least).is_some_and(|(head, least)| head < least) {
                air = Some(at);
            }
            head = head.zip(least).map(|(head, least)| head.max(least));
        }
        heads[at] = head;
        head = head.zip(taken(&steps[at])).map(|(head, drop)| head + drop);
    }
    (heads, air)
}

impl<'a> Walk<'a, '_> {
    /// Walks from the sea to where the water goes out.
    fn along(&mut self, way: &Way, warms: &Warms) -> End {
        let facts = self.plan.facts;
        for (run, thing) in way.runs.iter().zip(&way.things) {
            // The first of them has no run before it.
            self.bore = self.bore.or_else(|| {
                let pieces = facts.runs[*run].run.way.given()?;
                bores(pieces).first().copied().flatten()
            });
            self.thing(*thing, warms);
            self.bore = self.run(*run);
        }
        let bore = self.bore;
        let (Some(run), Some(thing)) = (way.runs.last(), way.things.get(way.runs.len())) else {
            // A tee, or a ring: which share runs where is a question that nothing here asks.
            if let Some(run) = way.runs.last() {
                self.shared(
                    &facts.runs[*run].run.key,
                    format!("{}.to", facts.runs[*run].place),
                );
            }
            return End::Lost;
        };
        if way.parts {
            let own = &facts.things[*thing];
            self.shared(own.key(), own.place.clone());
            return End::Lost;
        }
        self.end(*thing, *run, bore)
    }

    fn shared(&mut self, at: &str, place: String) {
        self.desk.miss(
            format!("The raw water parts at {at}: which share of it runs where is not reckoned."),
            place,
            "Measure the raw water that comes out of the exhaust: `raw = \"40 L/min\"` in the state.",
        );
    }

    /// Where it goes out: by the jet of an elbow or of the engine, or through the hull.
    fn end(&mut self, thing: usize, run: usize, bore: Option<f64>) -> End {
        let facts = self.plan.facts;
        let own = &facts.things[thing];
        let place = own.place.clone();
        if own.is(ThingKind::HullFitting) {
            let (parts, _) = chain(&own.thing.chain);
            self.takes(
                own.key().to_owned(),
                own.key().to_owned(),
                place.clone(),
                &parts,
            );
        }
        let nozzle = self
            .desk
            .value(&own.thing.detail.duty.nozzle, &format!("{place}.nozzle"));
        let Some(opening) = nozzle.or(bore) else {
            return End::Lost;
        };
        let to = &facts.runs[run].run.to;
        let Some(height) = facts.end_height(to).and_then(si) else {
            self.desk.miss(
                format!(
                    "The height at which the raw water goes out at {} is not written.",
                    own.key()
                ),
                format!("{place}.h"),
                "Measure it against the waterline with a water-filled tube.",
            );
            return End::Lost;
        };
        if nozzle.is_none() && !own.is(ThingKind::HullFitting) {
            self.desk.note(Words::from(
                format!(
                    "The jet by which the raw water comes into the exhaust at {} is taken as wide as its hose: write its bore as `nozzle`.",
                    own.key()
                )
                .as_str(),
            ));
        }
        if own.is(ThingKind::HullFitting) && height < 0.0 {
            End::Under(opening)
        } else {
            End::Free(height, opening)
        }
    }

    /// A thing that the water runs through.
    fn thing(&mut self, thing: usize, warms: &Warms) {
        let own = &self.plan.facts.things[thing];
        let (key, place) = (own.key().to_owned(), own.place.clone());
        match own.kind() {
            Some(ThingKind::RawWaterPump) => self.steps.push(Step::Pump),
            Some(ThingKind::HullFitting) => {
                let (mut parts, bore) = chain(&own.thing.chain);
                // Out of the sea into the mouth of a pipe: half a velocity head (Crane TP-410, an inlet that is
                // sharp and flush).
                if let Some(bore) = bore {
                    let half = Part::Loss {
                        ahead: 0.5,
                        back: 1.0,
                        bore,
                    };
                    parts.insert(0, half);
                }
                self.takes(key.clone(), key, place, &parts);
            }
            Some(ThingKind::Strainer) => self.by_drop(thing, "strainer, clean", 1e3),
            Some(ThingKind::OilCooler) => {
                self.t += warms.gearbox;
                self.by_drop(thing, "oil cooler", 4e3);
            }
            Some(ThingKind::Exchanger) => {
                let out = warms.coolers.iter().find(|row| row.subject == key);
                if let Some(out) = out.and_then(|row| row.raw_out) {
                    self.t = out;
                }
                self.tubes(thing);
            }
            Some(ThingKind::SiphonBreak) => {
                self.by_drop(thing, "siphon break", 1e3);
                self.breaks(thing);
            }
            _ => {}
        }
    }

    /// The tubes of an exchanger: as told, else by their friction.
    fn tubes(&mut self, thing: usize) {
        let own = &self.plan.facts.things[thing];
        let (key, place) = (own.key().to_owned(), own.place.clone());
        if let Some(at) = own.thing.detail.duty.raw_drop.given() {
            let part = self.rated(at.what.value.si(), at.at.value.si());
            return self.takes(key.clone(), key, place, &[part]);
        }
        match tubes_of(own.thing) {
            Some(pipe) => self.takes(key.clone(), key, place, &[Part::Pipe(pipe)]),
            None => {
                self.desk.miss(
                    format!("What the raw water loses in the tubes of {key} is not known."),
                    format!("{place}.raw_drop"),
                    "Find it in its sheet, or count and measure the tubes: `raw_drop = \"12 kPa @ 60 L/min\"`.",
                );
                self.unknown(key, place);
            }
        }
    }

    /// A drop as it was read or written: in her own raw water.
    fn rated(&self, drop: f64, flow: f64) -> Part {
        Part::Rated {
            drop,
            flow,
            power: 2.0,
            density: self.props.density,
            heat: 0.0,
        }
    }

    /// The break of a siphon, at the highest that is told of it.
    fn breaks(&mut self, thing: usize) {
        let own = &self.plan.facts.things[thing];
        let told = own.spigots.iter().chain([&own.height]);
        let top = told.filter_map(si).max_by(f64::total_cmp);
        if top.is_none() {
            self.desk.miss(
                format!(
                    "The height of the siphon break {} is not written.",
                    own.key()
                ),
                format!("{}.h", own.place),
                "Measure it against the waterline with a water-filled tube.",
            );
        }
        self.steps.push(Step::Break(top, self.bore));
    }

    /// The hull fitting by which the water comes in and its height, where that is not under the waterline.
    fn over(&mut self, way: &Way) -> Option<(String, f64, String)> {
        let own = &self.plan.facts.things[*way.things.first()?];
        if !own.is(ThingKind::HullFitting) {
            return None;
        }
        let height = si(&own.height).or_else(|| own.spigots.iter().find_map(si))?;
        if height < 0.0 {
            return None;
        }
        let place = format!("{}.h", own.place);
        self.desk.miss(
            format!(
                "{} does not stand under the waterline, so that air comes in: no pressure ahead of the pump is told.",
                crate::say::capital(own.key())
            ),
            place.clone(),
            "Measure its height against the waterline with a water-filled tube.",
        );
        Some((own.key().to_owned(), height, place))
    }

    /// A thing by its rated drop, or a typical one.
    fn by_drop(&mut self, thing: usize, what: &str, typical: f64) {
        let own = &self.plan.facts.things[thing];
        let (key, place) = (own.key().to_owned(), own.place.clone());
        let sized = self
            .bore
            .map_or(self.flow, |bore| SIZED * PI / 4.0 * bore * bore);
        let told = match own.thing.detail.duty.drop.given() {
            Some(at) => Some((at.what.value.si(), at.at.value.si())),
            None => self
                .desk
                .typical(
                    Assume::CoolerDrop,
                    &format!("What the raw water loses in {key} ({what})"),
                    Words::of(|system| {
                        format!(
                            "{} at {}",
                            crate::say::kpa(typical, system),
                            quantity::show(VolumeFlow::of_si(sized), None, system)
                        )
                    }),
                    PRACTICE.into(),
                    &format!("{place}.drop"),
                    "Read it in its sheet, or by two gauges: `drop = \"4 kPa @ 60 L/min\"`.",
                )
                .then_some((typical, sized)),
        };
        match told {
            Some((drop, at)) => {
                let part = self.rated(drop, at);
                self.takes(key.clone(), key, place, &[part]);
            }
            None => self.unknown(key, place),
        }
    }

    fn unknown(&mut self, key: String, place: String) {
        let row = ItemRow {
            subject: key.clone(),
            title: key,
            place,
            raw: true,
            ..ItemRow::default()
        };
        self.steps.push(Step::Takes(row, None));
    }

    fn lost(&self, parts: &[Part]) -> Option<f64> {
        let stream = self.flow * self.props.density;
        parts
            .iter()
            .map(|part| {
                let taken = part.loss(Law::Smooth, stream, &self.props, 1.0);
                Some(taken.ok()?.drop)
            })
            .sum()
    }

    fn takes(&mut self, subject: String, title: String, place: String, parts: &[Part]) {
        let drop = self.lost(parts);
        let row = ItemRow {
            subject,
            title,
            place,
            flow: self.flow,
            temperatures: [self.t, self.t],
            raw: true,
            ..ItemRow::default()
        };
        self.steps.push(Step::Takes(row, drop));
    }

    /// A run with its two joints; gives the bore at its end.
    fn run(&mut self, at: usize) -> Option<f64> {
        let facts = self.plan.facts;
        let own = &facts.runs[at];
        let run = own.run;
        let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
        let laid = lay(&mut self.desk, run, &own.place);
        let t = self.t;
        let bores: Vec<Option<f64>> = laid.iter().flatten().map(|own| own.bore).collect();
        let joint = |end: &str, first: &str, told: &boat::RunEnd, bore: Option<f64>| {
            let height = facts.end_height(told).and_then(si);
            let place = RawPlace {
                name: format!("{}.{end}", run.key),
                title: format!("{} ({}{first})", run.key, own.mark),
                temperature: t,
                ..RawPlace::default()
            };
            Step::At(RawPlace { height, ..place }, height, bore)
        };
        let (first, last) = (
            bores.first().copied().flatten(),
            bores.last().copied().flatten(),
        );
        let from = joint("from", "1", &run.from, first);
        let to = joint("to", "", &run.to, last);
        self.steps.push(from);
        match laid {
            Some(laid) => {
                for (i, (piece, laid)) in pieces.iter().zip(laid).enumerate() {
                    let drop = self.lost(&laid.parts);
                    let speed = laid.bore.map(|bore| self.flow / (PI / 4.0 * bore * bore));
                    let row = ItemRow {
                        subject: format!("{}.{}", run.key, piece.name),
                        title: format!("{} of {} ({})", piece.name, run.key, own.mark),
                        run: run.key.clone(),
                        place: format!("{}.way[{i}]", own.place),
                        flow: self.flow,
                        temperatures: [self.t, self.t],
                        speed,
                        bore: laid.bore,
                        reynolds: speed.zip(laid.bore).map(|(speed, bore)| {
                            speed * bore * self.props.density / self.props.viscosity
                        }),
                        stuff: laid.stuff,
                        soft: laid.soft && matches!(piece.kind, PieceKind::Hose { .. }),
                        raw: true,
                        ..ItemRow::default()
                    };
                    self.steps.push(Step::Takes(row, drop));
                }
            }
            None => self.unknown(run.key.clone(), own.place.clone()),
        }
        self.steps.push(to);
        last
    }
}

/// The tubes as one pipe: half a velocity head where the water comes into each pass and a whole one where it
/// leaves (Crane TP-410, a sharp inlet and any outlet).
fn tubes_of(thing: &Thing) -> Option<Pipe> {
    let tubes = thing.detail.tubes.as_ref()?;
    let value = |told: &boat::Told<quantity::Reading<quantity::Length>>| {
        told.given().map(|reading| reading.value.si())
    };
    let bore = value(&tubes.od)? - 2.0 * value(&tubes.wall)?;
    let passes = f64::from(*tubes.passes.given()?);
    let count = f64::from(*tubes.count.given()?);
    (bore > 0.0 && passes > 0.0 && count >= passes).then_some(Pipe {
        bore,
        length: value(&tubes.length)? * passes,
        roughness: super::pieces::rough(reference::friction::Surface::DrawnOrHose) / bore,
        k: 1.5 * passes,
        count: count / passes,
        factor: None,
        times: 1.0,
    })
}
