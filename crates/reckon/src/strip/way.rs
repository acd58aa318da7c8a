//! The pieces and joints of a way, with what the file tells of their lengths and heights.

use boat::{Carries, Key, Piece, PieceKind, RunEnd, Size, Stuff, Thing, ThingKind, Told};
use quantity::{Length, Quantity};

use super::{
    At, Branch, PieceForm, RunReach, SignKind, StripHeader, StripPiece, StripSign, StripStation,
    StripVent, Way, spoken,
};
use crate::flow::{bores, lengths, middle_of};
use crate::stages::circuit::listing::{Passed, Side, list, round_from, tee_at};
use crate::stages::circuit::plan::{Plan, Site};
use crate::stages::circuit::{self, rules::height};
use crate::stages::types::Known;
use crate::verdict::{Grade, Words};
use crate::wire::Answer;

/// Lays ways out.
pub(super) struct Maker<'a> {
    plan: &'a Plan<'a>,
    answer: &'a Answer,
}

/// A height with half its width.
type Height = (f64, f64);

fn known(value: &Known<Length>) -> Option<Height> {
    let measured = &value.as_ref().ok()?.measured;
    Some((measured.value.si(), measured.half_width().si()))
}

/// The worst that is said of something, or of its parts.
pub(super) fn worst(answer: &Answer, key: &str) -> Option<Grade> {
    let of_parts = |subject: &str| {
        subject == key
            || subject
                .strip_prefix(key)
                .is_some_and(|rest| rest.starts_with('.'))
    };
    answer
        .verdicts
        .iter()
        .filter(|verdict| of_parts(&verdict.subject))
        .map(|verdict| verdict.grade)
        .max()
}

/// The places of the beginning and end of something on a way.
fn at(pieces: usize) -> At {
    // OK because a way has far fewer pieces than a float counts exactly.
    pieces as At
}

/// A way under way: pieces with the heights at their ends.
#[derive(Default)]
struct Draft {
    way: Way,
    /// Heights between the ends of a piece.
    crests: Vec<(At, f64)>,
    /// How deep a piece that lies outside does so.
    depths: Vec<(At, f64)>,
    /// What is told of the height of each end.
    ends: Vec<Option<Height>>,
    /// Ends of the runs that are measured as a whole, whatever their pieces are.
    wholes: Vec<(usize, usize)>,
}

impl Draft {
    fn here(&self) -> At {
        at(self.way.pieces.len())
    }

    /// Tells the height of where the way now ends, unless it is told already.
    fn told(&mut self, height: Option<Height>) {
        let here = self.way.pieces.len();
        self.ends.resize(here + 1, None);
        if self.ends[here].is_none() {
            self.ends[here] = height;
        }
    }

    fn piece(&mut self, piece: StripPiece) {
        self.ends.resize(self.way.pieces.len() + 1, None);
        self.way.pieces.push(piece);
        self.ends.push(None);
    }

    fn sign(&mut self, key: &str, kind: SignKind, at: At) {
        self.way.signs.push(StripSign {
            key: key.to_owned(),
            kind,
            at,
            z: None,
            says: Words::default(),
            grade: None,
        });
    }
}

impl<'a> Maker<'a> {
    pub(super) fn of(plan: &'a Plan<'a>, answer: &'a Answer) -> Self {
        Self { plan, answer }
    }

    /// The main circuit from the first pump round to it.
    pub(super) fn main(&self) -> Way {
        let round: Vec<Passed> = self
            .plan
            .pumps
            .iter()
            .map(|pump| round_from(self.plan, *pump))
            .find(|round| !round.is_empty())
            .unwrap_or_default();
        if round.is_empty() {
            return Way::default();
        }
        let sites: Vec<Site> = round.iter().map(|passed| passed.site).collect();
        let mut draft = Draft::default();
        let n = round.len();
        for (i, passed) in round.iter().enumerate() {
            let before = sites[(i + n - 1) % n];
            let after = sites[(i + 1) % n];
            match passed.site {
                Site::Thing(thing) if i == 0 => {
                    // The pump's own height is not in the file; it is taken to be that of its inlet.
                    let inlet = self.end_on(before, thing, true);
                    draft.told(inlet);
                    self.inner(&mut draft, thing, "");
                    draft.told(self.end_on(after, thing, false));
                }
                Site::Thing(thing) => self.thing(&mut draft, thing, before, after),
                Site::Run(run) => {
                    let ends = [passed.nodes.first(), passed.nodes.last()];
                    self.run(
                        &mut draft,
                        run,
                        ends.map(|node| tee_at(self.plan, run, node)),
                    );
                }
            }
        }
        if let Some(Site::Thing(thing)) = sites.first() {
            let inlet = self.end_on(sites[n - 1], *thing, true);
            draft.told(inlet);
            self.inner(&mut draft, *thing, "in");
            draft.told(inlet);
        }
        self.finish(draft)
    }

    /// The height of the spigot by which a run is joined to a thing.
    fn end_on(&self, site: Site, thing: usize, comes: bool) -> Option<Height> {
        let facts = self.plan.facts;
        let Site::Run(run) = site else {
            return known(&facts.things[thing].height);
        };
        let run = facts.runs[run].run;
        let end = if comes { &run.to } else { &run.from };
        let on = facts.end(end).is_some_and(|(at, _)| at == thing);
        if on {
            return facts.end_height(end).and_then(known);
        }
        None
    }

    /// The way inside the thing that has the pump: from the pump, or back to it.
    fn inner(&self, draft: &mut Draft, thing: usize, part: &str) {
        let own = &self.plan.facts.things[thing];
        let begins = draft.here();
        let mut piece = self.within(thing);
        if !part.is_empty() {
            piece.title = format!("{}, {part}", own.key());
        }
        piece.suction = !part.is_empty();
        // Distances count from where the way leaves it.
        piece.told = true;
        draft.piece(piece);
        if !part.is_empty() {
            return;
        }
        let stations = self.plan.insides[thing].paths().iter().flatten();
        if stations
            .map(|name| name.split('.').next().unwrap_or_default())
            .any(|name| name == "stat")
        {
            draft.sign(
                &format!("{}.stat", own.key()),
                SignKind::Thermostat,
                begins + 0.8,
            );
        }
        for (port, height) in own.thing.ports.iter().zip(&own.ports) {
            if port.name.contains("drain") {
                let key = format!("{}.{}", own.key(), port.name);
                draft.sign(&key, SignKind::Drain, begins + 0.2);
                if let Some(sign) = draft.way.signs.last_mut() {
                    sign.z = known(height).map(|(z, _)| z);
                }
            }
        }
    }

    /// A thing as one piece.
    fn within(&self, thing: usize) -> StripPiece {
        let own = &self.plan.facts.things[thing];
        let kind = own.kind().map_or("", ThingKind::word);
        let key = own.key().to_owned();
        let length = through(own.thing);
        StripPiece {
            title: if kind.is_empty() || kind == key {
                key.clone()
            } else {
                format!("{key}, {kind}")
            },
            form: match own.kind() {
                Some(ThingKind::KeelPipes | ThingKind::SkinTank) => PieceForm::Outside,
                _ => PieceForm::Within,
            },
            length: length.unwrap_or(0.0),
            // A fitting is a hand's breadth long.
            told: length.is_some() || own.is(ThingKind::HullFitting),
            suction: self.plan.any(Site::Thing(thing), &self.plan.suction)
                && !own.kind().is_some_and(circuit::plan::is_sink),
            grade: worst(self.answer, &key),
            key,
            ..StripPiece::default()
        }
    }

    fn thing(&self, draft: &mut Draft, thing: usize, before: Site, after: Site) {
        let facts = self.plan.facts;
        let own = &facts.things[thing];
        let begins = draft.here();
        match own.kind() {
            Some(ThingKind::HullFitting) => {
                let body = known(&own.height);
                // The hull lies at that side on which the way is in the sea.
                let out = matches!(after, Site::Thing(_));
                let tail = if out {
                    self.end_on(before, thing, true)
                } else {
                    self.end_on(after, thing, false)
                };
                draft.told(if out { tail.or(body) } else { body });
                draft.piece(self.within(thing));
                draft.told(if out { body } else { tail.or(body) });
                let (valve, hull) = if out { (0.45, 0.92) } else { (0.55, 0.08) };
                draft.sign(own.key(), SignKind::Hull, begins + hull);
                if own.thing.chain.iter().any(|part| part.kind.is_valve()) {
                    let shut = self.plan.is_shut(own.key());
                    let narrow = self.narrow_fitting(own.thing, if out { before } else { after });
                    let kind = SignKind::Valve { shut, narrow };
                    draft.sign(&format!("{}.valve", own.key()), kind, begins + valve);
                }
            }
            _ => {
                let from = self
                    .end_on(before, thing, true)
                    .or_else(|| self.of_site(before));
                let to = self
                    .end_on(after, thing, false)
                    .or_else(|| self.of_site(after));
                draft.told(from);
                draft.piece(self.within(thing));
                draft.told(to);
                if let Some(depth) = middle_of(&own.thing.detail.depth) {
                    draft.depths.push((begins, -depth.abs()));
                }
            }
        }
    }

    /// The height of a hull fitting beside what lies outside.
    fn of_site(&self, site: Site) -> Option<Height> {
        match site {
            Site::Thing(thing) => known(&self.plan.facts.things[thing].height),
            Site::Run(_) => None,
        }
    }

    /// Whether the valve of a hull fitting is narrower than the hose on it.
    fn narrow_fitting(&self, fitting: &Thing, beside: Site) -> bool {
        let Site::Run(run) = beside else { return false };
        let pieces = self.plan.facts.runs[run].run.way.given();
        let hose = pieces.and_then(|pieces| {
            let all = bores(pieces);
            all.first()
                .copied()
                .flatten()
                .zip(all.last().copied().flatten())
        });
        let valve = fitting
            .chain
            .iter()
            .filter(|part| part.kind.is_valve())
            .find_map(|part| part.bore);
        match (valve, hose) {
            (Some(valve), Some((first, last))) => valve.si() < 0.97 * first.min(last),
            _ => false,
        }
    }

    /// A run, or the part of it between two of its tees.
    fn run(&self, draft: &mut Draft, run: usize, tees: [Option<usize>; 2]) {
        let facts = self.plan.facts;
        let own = &facts.runs[run];
        let key = &own.run.key;
        let begins = draft.here();
        let left_to_tool = [Piece {
            name: "way".into(),
            ..Piece::of(PieceKind::Hose {
                size: Size::Choose,
                build: None,
            })
        }];
        let pieces = match &own.run.way {
            Told::Given(pieces) if !pieces.is_empty() => pieces.as_slice(),
            _ => &left_to_tool[..],
        };
        let whole = middle_of(&own.run.length);
        let long = lengths(pieces, whole.unwrap_or(0.0));
        // What is left of a run is the length of a hose only where nothing else of it is unknown.
        let hose = |piece: &Piece| matches!(piece.kind, PieceKind::Hose { .. });
        let bend = |piece: &Piece| matches!(piece.kind, PieceKind::Elbow { .. });
        let open = |of: &dyn Fn(&Piece) -> bool| {
            let unknown = pieces.iter().filter(|piece| piece.long.is_none());
            unknown.filter(|piece| of(piece)).count()
        };
        let (hoses, bends) = (open(&hose), open(&bend));
        let rest = whole.is_some() && hoses == 1 && bends == 0;
        let bore = bores(pieces);
        let (joints, _) = circuit::joints(own.run, &own.mark);
        let first = tees[0].unwrap_or(0);
        let last = tees[1].unwrap_or(pieces.len() - 1);
        let main = self.plan.any(Site::Run(run), &self.plan.on_main);
        if tees[0].is_none() {
            draft.told(facts.end_height(&own.run.from).and_then(known));
            self.station(draft, &joints, &format!("{key}.from"));
        }
        for (i, piece) in pieces.iter().enumerate().take(last + 1).skip(first) {
            // A tee by which the water comes in or leaves is half a tee.
            let entered = tees[0] == Some(i);
            let left = tees[1] == Some(i);
            if !entered {
                self.station(draft, &joints, &format!("{key}.{}.a", piece.name));
            }
            let here = draft.here();
            let own_key = format!("{key}.{}", piece.name);
            let node = self.plan.find(Site::Run(run), &piece.name);
            draft.piece(StripPiece {
                run: key.clone(),
                title: boat::piece_text(&piece.kind),
                form: form(&piece.kind),
                length: long[i],
                told: piece.long.is_some() || (!bend(piece) && (!hose(piece) || rest)),
                bore: bore[i],
                suction: main && node.is_some_and(|node| self.plan.suction[node]),
                grade: worst(self.answer, &own_key),
                key: own_key.clone(),
                ..StripPiece::default()
            });
            match &piece.kind {
                PieceKind::Tee { .. } => {
                    draft.sign(&own_key, SignKind::Tee, here + 0.5);
                    if let Some(sign) = draft.way.signs.last_mut() {
                        sign.says = self.branch_of(key, &piece.name).as_str().into();
                    }
                }
                PieceKind::Reducer { .. } => draft.sign(&own_key, SignKind::Reducer, here + 0.5),
                PieceKind::Valve { full_bore, .. } => {
                    let shut = facts.shut.contains(&own_key);
                    let narrow = !full_bore;
                    draft.sign(&own_key, SignKind::Valve { shut, narrow }, here + 0.5);
                }
                _ => {}
            }
            if !left {
                self.station(draft, &joints, &format!("{key}.{}.b", piece.name));
            }
        }
        if tees[1].is_none() {
            draft.told(facts.end_height(&own.run.to).and_then(known));
            self.station(draft, &joints, &format!("{key}.to"));
        }
        let ends = draft.here();
        if whole.is_some() && hoses > 0 && tees == [None, None] {
            // OK because both are whole numbers of pieces.
            draft.wholes.push((begins as usize, ends as usize));
        }
        self.crest(draft, run, (begins, ends));
        draft.way.runs.push(RunReach {
            key: key.clone(),
            mark: own.mark.clone(),
            from: begins,
            to: ends,
        });
        for cock in &facts.things {
            let kind = match cock.kind() {
                Some(ThingKind::Bleed) => SignKind::Bleed,
                Some(ThingKind::Drain) => SignKind::Drain,
                _ => continue,
            };
            if cock.thing.detail.on_run.as_deref() == Some(key) {
                let crest = draft
                    .crests
                    .iter()
                    .find(|(at, _)| *at > begins && *at < ends);
                let middle = crest.map_or(0.5 * (begins + ends), |(at, _)| *at);
                draft.sign(cock.key(), kind, middle);
                if let Some(sign) = draft.way.signs.last_mut() {
                    sign.z = known(&cock.height).map(|(z, _)| z);
                }
            }
        }
    }

    /// Where a run rises over its ends or dips under them: where along it is not in the file, so it is drawn in
    /// its middle.
    fn crest(&self, draft: &mut Draft, run: usize, (begins, ends): (At, At)) {
        let own = &self.plan.facts.runs[run];
        let told = |value: &Option<Known<Length>>| value.as_ref().and_then(known).map(|(z, _)| z);
        let (high, low) = (told(&own.high), told(&own.low));
        // OK because both are whole numbers of pieces.
        let longest = (begins as usize..ends as usize)
            .max_by(|a, b| {
                let long = |i: &usize| draft.way.pieces[*i].length;
                long(a).total_cmp(&long(b))
            })
            .map_or(begins, at);
        match (high, low) {
            (Some(z), None) | (None, Some(z)) => draft.crests.push((longest + 0.5, z)),
            (Some(high), Some(low)) => {
                let rises = draft.ends[begins as usize].map(|(z, _)| z)
                    < draft
                        .ends
                        .get(ends as usize)
                        .copied()
                        .flatten()
                        .map(|(z, _)| z);
                let both = if rises { [low, high] } else { [high, low] };
                draft.crests.push((longest + 1.0 / 3.0, both[0]));
                draft.crests.push((longest + 2.0 / 3.0, both[1]));
            }
            (None, None) => {}
        }
    }

    /// The runs on the branch of a tee, or that it is blanked off.
    fn branch_of(&self, run: &str, piece: &str) -> String {
        let facts = self.plan.facts;
        if facts.blanked.contains(&format!("{run}.{piece}")) {
            return "blanked".to_owned();
        }
        let on = |end: &RunEnd| matches!(end, RunEnd::Tee { run: own, piece: at } if own == run && at == piece);
        let marks: Vec<&str> = facts
            .runs
            .iter()
            .filter(|own| on(&own.run.from) || on(&own.run.to))
            .map(|own| own.mark.as_str())
            .collect();
        marks.join(" ")
    }

    fn station(&self, draft: &mut Draft, joints: &[circuit::Joint], key: &str) {
        let Some(joint) = joints.iter().find(|joint| joint.key == key) else {
            return;
        };
        let at = draft.here();
        draft.way.stations.push(StripStation {
            key: joint.key.clone(),
            mark: joint.mark.clone(),
            at,
            ..StripStation::default()
        });
    }

    /// Distances, heights between those that are told, and what is said of each joint.
    fn finish(&self, draft: Draft) -> Way {
        let Draft {
            mut way,
            crests,
            depths,
            mut ends,
            wholes,
        } = draft;
        let n = way.pieces.len();
        ends.resize(n + 1, None);
        let mut s = 0.0;
        way.along = vec![0.0];
        for piece in &way.pieces {
            s += piece.length;
            way.along.push(s);
        }
        let told = super::bands::distances(&way, &wholes);
        way.heights = ends.iter().map(|end| end.map(|(z, _)| z)).collect();
        let mut points: Vec<(At, f64)> = (0..=n)
            .filter_map(|i| ends[i].map(|(z, _)| (at(i), z)))
            .chain(crests.iter().copied())
            .collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        way.measured = !points.is_empty();
        if way.measured {
            let level = |i: usize| match ends[i] {
                Some((z, _)) => z,
                None => between(&points, &way.along, at(i)),
            };
            let polys: Vec<Vec<(f64, f64)>> = (0..n)
                .map(|i| {
                    let depth = depths.iter().find(|(own, _)| *own == at(i));
                    let outside = depth.into_iter().flat_map(|(_, z)| [(0.0, *z), (1.0, *z)]);
                    let inner = crests
                        .iter()
                        .filter(|(own, _)| *own > at(i) && *own < at(i + 1));
                    std::iter::once((0.0, level(i)))
                        .chain(outside)
                        .chain(inner.map(|(own, z)| (own - at(i), *z)))
                        .chain([(1.0, level(i + 1))])
                        .collect()
                })
                .collect();
            for (i, poly) in polys.into_iter().enumerate() {
                let crest = crests
                    .iter()
                    .any(|(own, _)| *own > at(i) && *own < at(i + 1));
                let piece = &mut way.pieces[i];
                piece.assumed = ends[i].is_none() || ends[i + 1].is_none() || crest;
                piece.poly = poly;
            }
        } else {
            way.pieces.iter_mut().for_each(|piece| piece.assumed = true);
        }
        for station in &mut way.stations {
            // OK because a joint stands at the end of a piece.
            let here = station.at as usize;
            station.s = way.along[here];
            (station.told, station.least) = told[here];
            (station.z, station.z_dev) =
                (ends[here].map(|(z, _)| z), ends[here].map(|(_, dev)| dev));
            station.wet = station.z.map(|z| z < 0.0);
            station.assumed = station.z.is_none();
            let row = self
                .answer
                .joints
                .iter()
                .find(|row| row.joint == station.key);
            station.grade = row
                .map(|row| row.grade)
                .max(worst(self.answer, &station.key));
            station.spoken = spoken::joint(self.answer, station, row);
        }
        way
    }

    /// The ways beside the main circuit: each from a run that no other of its kind leads to, as far as it goes.
    pub(super) fn branches(&self, main: &Way) -> Vec<Branch> {
        let facts = self.plan.facts;
        let listing = list(self.plan);
        let beside: Vec<usize> = listing
            .beside
            .iter()
            .filter(|row| matches!(row.side, Side::Beside | Side::RawWater | Side::Off))
            .filter_map(|row| facts.run(&row.key))
            .filter(|run| !self.makes_up(*run))
            .collect();
        // A run goes on in the one that leaves the thing it comes to, by a way of its own kind.
        let onward = |run: usize| -> Option<usize> {
            let own = facts.runs[run].run;
            let (thing, _) = facts.end(&own.to)?;
            if main
                .pieces
                .iter()
                .any(|piece| piece.key == facts.things[thing].key())
            {
                let raw = own.carries != Carries::Coolant;
                if !raw {
                    return None;
                }
            }
            beside.iter().copied().find(|next| {
                let next = facts.runs[*next].run;
                next.carries == own.carries
                    && facts.end(&next.from).is_some_and(|(at, _)| at == thing)
            })
        };
        let mut branches = Vec::new();
        for head in &beside {
            if beside.iter().any(|other| onward(*other) == Some(*head)) {
                continue;
            }
            let mut chain = vec![*head];
            while let Some(next) = chain.last().and_then(|run| onward(*run)) {
                if chain.contains(&next) {
                    break;
                }
                chain.push(next);
            }
            branches.push(self.branch(main, &chain));
        }
        branches
    }

    /// Whether a run leads from a header tank.
    fn makes_up(&self, run: usize) -> bool {
        let from = self.plan.facts.end(&self.plan.facts.runs[run].run.from);
        from.is_some_and(|(thing, _)| self.plan.facts.things[thing].is(ThingKind::HeaderTank))
    }

    fn branch(&self, main: &Way, chain: &[usize]) -> Branch {
        let facts = self.plan.facts;
        let mut draft = Draft::default();
        let mut names: Vec<String> = Vec::new();
        for (i, run) in chain.iter().enumerate() {
            if i > 0
                && let Some((thing, _)) = facts.end(&facts.runs[*run].run.from)
            {
                self.thing(&mut draft, thing, Site::Run(chain[i - 1]), Site::Run(*run));
                names.push(facts.things[thing].key().to_owned());
            } else if let Some((thing, _)) = facts.end(&facts.runs[*run].run.from)
                && facts.things[thing].is(ThingKind::HullFitting)
            {
                self.thing(&mut draft, thing, Site::Thing(thing), Site::Run(*run));
            }
            self.run(&mut draft, *run, [None, None]);
        }
        let runs = chain.iter().map(|run| &facts.runs[*run]);
        let marks: Vec<&str> = runs.clone().map(|own| own.mark.as_str()).collect();
        let first = facts.runs[chain[0]].run;
        // OK because a chain has at least the run it began with.
        let last = facts.runs[chain[chain.len() - 1]].run;
        let title = if names.is_empty() {
            format!("{} {}", marks.join(" "), first.key)
        } else {
            format!("{} {}", marks.join(" "), names.join(", "))
        };
        let closed = first.carries == Carries::Coolant;
        Branch {
            key: first.key.clone(),
            title,
            carries: match first.carries {
                Carries::Coolant => "",
                Carries::RawWater => "raw water",
                Carries::Oil => "oil",
                Carries::DomesticWater => "domestic water",
                Carries::Vent => "vent",
            },
            from: self.on(main, &first.from).filter(|_| closed),
            to: self.on(main, &last.to).filter(|_| closed),
            way: self.finish(draft),
        }
    }

    /// Where an end of a run lies on the main circuit.
    fn on(&self, main: &Way, end: &RunEnd) -> Option<At> {
        let key = match end {
            RunEnd::Tee { run, piece } => format!("{run}.{piece}"),
            RunEnd::Thing { .. } => {
                let (thing, _) = self.plan.facts.end(end)?;
                self.plan.facts.things[thing].key().to_owned()
            }
        };
        let i = main.pieces.iter().position(|piece| piece.key == key)?;
        Some(at(i) + 0.5)
    }

    pub(super) fn header(&self, main: &Way) -> Option<StripHeader> {
        let facts = self.plan.facts;
        let headers = self.plan.headers();
        let apart = |thing: &usize| facts.things[*thing].is(ThingKind::HeaderTank);
        let thing = headers
            .iter()
            .copied()
            .find(apart)
            .or(headers.first().copied())?;
        let own = &facts.things[thing];
        let inside = !apart(&thing);
        // The make-up line ends at the tee or thing to which its run leads.
        let feed = facts.runs.iter().find(|run| {
            run.run.carries == Carries::Coolant
                && facts.end(&run.run.from).is_some_and(|(at, _)| at == thing)
        });
        let joins = if inside {
            let last = main.pieces.iter().rposition(|piece| piece.key == own.key());
            last.map(|i| at(i) + 0.5)
        } else {
            feed.and_then(|feed| self.on(main, &feed.run.to))
        };
        let foot = feed
            .filter(|_| !inside)
            .and_then(|feed| facts.end_height(&feed.run.from))
            .and_then(known)
            .map(|(z, _)| z);
        let cap = known(&own.cap_h).map(|(z, _)| z);
        let level = known(&own.cold_mark).map(|(z, _)| z);
        let text = |z: Option<f64>| {
            z.map_or_else(Words::default, |z| Words::of(|system| height(z, system)))
        };
        Some(StripHeader {
            key: own.key().to_owned(),
            title: if inside {
                format!("header in {}", own.key())
            } else {
                own.key().to_owned()
            },
            joins,
            foot,
            cap,
            level,
            texts: [text(cap), text(level)],
            inside,
        })
    }

    pub(super) fn vents(&self, main: &Way) -> Vec<StripVent> {
        let facts = self.plan.facts;
        let vents = facts
            .runs
            .iter()
            .filter(|own| own.run.carries == Carries::Vent);
        vents
            .filter_map(|own| {
                let from = self.on(main, &own.run.from)?;
                let to = facts.end(&own.run.to);
                Some(StripVent {
                    key: own.run.key.clone(),
                    // Beside the middle, where the name of the thing stands.
                    from: from - 0.25,
                    z: facts
                        .end_height(&own.run.from)
                        .and_then(known)
                        .map(|(z, _)| z),
                    to: to.map_or_else(Key::new, |(thing, _)| facts.things[thing].key().to_owned()),
                })
            })
            .collect()
    }
}

/// The height at a place between two that are told, by the distance along the way; before the first and behind the
/// last it is theirs.
fn between(points: &[(At, f64)], along: &[f64], place: At) -> f64 {
    let far = |at: At| {
        // OK because a place is never under 0.
        let i = (at.floor() as usize).min(along.len().saturating_sub(1));
        let next = along.get(i + 1).copied().unwrap_or(along[i]);
        along[i] + (at - at.floor()) * (next - along[i])
    };
    let behind = points.iter().rev().find(|(at, _)| *at <= place);
    let ahead = points.iter().find(|(at, _)| *at >= place);
    match (behind, ahead) {
        (Some((a, za)), Some((b, zb))) => {
            let (s, sa, sb) = (far(place), far(*a), far(*b));
            let share = if sb - sa > 1e-9 {
                (s - sa) / (sb - sa)
            } else if b > a {
                (place - a) / (b - a)
            } else {
                0.0
            };
            za + share * (zb - za)
        }
        (Some((_, z)), None) | (None, Some((_, z))) => *z,
        (None, None) => 0.0,
    }
}

fn form(kind: &PieceKind) -> PieceForm {
    match kind {
        PieceKind::Hose { .. }
        | PieceKind::Elbow {
            stuff: Stuff::Moulded(_),
            ..
        }
        | PieceKind::Reducer {
            stuff: Stuff::Moulded(_),
            ..
        } => PieceForm::Hose,
        _ => PieceForm::Pipe,
    }
}

/// Length of the way through a thing [m], where the file tells one: pipes one after the other, or beside each other.
fn through(thing: &Thing) -> Option<f64> {
    let detail = &thing.detail;
    if let Some(pipes) = &detail.pipes {
        let long = middle_of(&pipes.length)?;
        let count = match pipes.in_series.given() {
            Some(true) => f64::from(*pipes.count.given()?),
            Some(false) => 1.0,
            None => return None,
        };
        return Some(count * long);
    }
    if let Some(channel) = &detail.channel {
        return middle_of(&channel.length);
    }
    None
}
