//! What a refit uses up beside hose and clips: fittings, washers, sealant, supports, caps, coolant.

use boat::{ChainPart, Key, PieceKind, Renewal, Run, Sex, piece_text};
use quantity::{Quantity, Ratio, System, Volume, show};
use reference::mate::{SealsOn, mates};
use reference::seal::washer;
use reference::support::{support_clip, support_spacing};

use super::Shop;
use super::missing::sentence;
use super::stock::{cuff_as_bought, outside};
use crate::pour;
use crate::say;
use crate::stages::circuit;
use crate::stages::fill::{self, KindFacts};
use crate::stages::order::{Ask, Measure, Waits, Ware, bore_note};
use crate::stages::survey;
use crate::stages::types::{family, thread_size};
use crate::verdict::{Settles, Words};

impl Shop<'_> {
    /// Fittings and moulded pieces that the boat does not have yet; moulded ones are renewed with the hose.
    pub(super) fn fittings(&mut self, run: &Run) {
        let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
        let there = self
            .base
            .run(&run.key)
            .and_then(|run| run.way.given())
            .map_or(&[][..], Vec::as_slice);
        let mut there: Vec<String> = there.iter().map(|piece| piece_text(&piece.kind)).collect();
        for piece in pieces {
            let name = piece_text(&piece.kind);
            let ware = match &piece.kind {
                PieceKind::Hose { .. } => continue,
                PieceKind::Elbow { .. } if circuit::is_hose(&piece.kind) => Ware::Elbow,
                PieceKind::Reducer { .. } => Ware::Reducer,
                PieceKind::Joiner { .. } => Ware::Joiner,
                _ => Ware::Fitting,
            };
            if !circuit::is_hose(&piece.kind)
                && let Some(at) = there.iter().position(|known| *known == name)
            {
                there.remove(at);
                continue;
            }
            let key = format!("{}.{}", run.key, piece.name);
            let cuffs = self
                .kept
                .hoses
                .iter()
                .filter(|kept| kept.run == run.key && kept.piece.name == piece.name);
            let notes = cuffs
                .filter_map(cuff_as_bought)
                .filter_map(|(_, window)| window)
                .map(|window| bore_note(window.least, window.most))
                .collect();
            self.asks.push(pieces_of(ware, name, 1.0, key, notes));
        }
    }

    /// Rubber-lined supports along a run, as far apart as practice allows.
    pub(super) fn supports(&mut self, run: &Run) {
        let Some(length) = run.length.given() else {
            return;
        };
        // Hose that is not bought yet is not held either.
        let of_run = self.kept.hoses.iter().filter(|kept| kept.run == run.key);
        let mut ends = of_run.flat_map(|kept| &kept.input.ends);
        if ends.any(|end| self.is_blocked(&end.joint)) {
            return;
        }
        let spacing = support_spacing();
        let spans = (length.value.si() / spacing.every.si()).ceil();
        let hose = self.kept.hoses.iter().find(|kept| kept.run == run.key);
        let over = hose
            .and_then(|kept| kept.output.hose.as_ref().ok())
            .and_then(outside);
        let (true, Some(over)) = (spans > 1.0, over) else {
            return;
        };
        // Sold in steps; one that is in no list is asked for by the hose.
        let holds = support_clip(over).map_or(over, |clip| clip.value);
        let name = format!("rubber-lined P-clip for {} mm", holds.to_mm().round());
        self.asks.push(pieces_of(
            Ware::Support,
            name,
            spans - 1.0,
            run.key.clone(),
            vec![Words::of(|system| {
                let (every, fixed) = (spacing.every.si(), spacing.from_fixed_pipe.si());
                format!(
                    "held every {} at most, within {} of fixed pipe, and not on the part that flexes with the engine (common practice, no source)",
                    say::whole_mm(every, system),
                    say::whole_mm(fixed, system)
                )
            })],
        ));
    }

    /// Screwed stacks that are new: their parts, washers and sealant.
    pub(super) fn stacks(&mut self) {
        for thing in &self.boat().things {
            let old = self.base.thing(&thing.key);
            if old.is_none() && thing.chain.is_empty() {
                let kind = thing.kind.given().map_or("part", |kind| kind.word());
                let name = if kind == thing.key {
                    kind.to_owned()
                } else {
                    format!("{kind} ({})", thing.key)
                };
                // A bleed or a drain sits on a tee or boss of its run, which the file does not name.
                let notes = thing.detail.on_run.as_ref().map(|run| {
                    let note = format!("choose the tee or boss that carries it in {run}; its own joints are not on this list");
                    Words::from(note.as_str())
                });
                let ask = pieces_of(
                    Ware::Fitting,
                    name,
                    1.0,
                    thing.key.clone(),
                    notes.into_iter().collect(),
                );
                self.asks.push(ask);
            }
            let old: Vec<&ChainPart> = old.map_or_else(Vec::new, |old| old.chain.iter().collect());
            if thing.chain.iter().collect::<Vec<_>>() == old {
                continue;
            }
            let mut there: Vec<String> = old.into_iter().map(boat::chain_part_text).collect();
            for part in &thing.chain {
                let name = boat::chain_part_text(part);
                if let Some(at) = there.iter().position(|known| *known == name) {
                    there.remove(at);
                    continue;
                }
                let note =
                    "below the waterline: fitted ashore, by local rules and licensed practice";
                let key = format!("{}.{}", thing.key, part.name);
                let ask = pieces_of(Ware::Fitting, name, 1.0, key, vec![note.into()]);
                self.asks.push(ask);
            }
            for pair in thing.chain.windows(2) {
                self.seal(&thing.key, &pair[0], &pair[1]);
            }
        }
    }

    /// What seals one screwed joint.
    fn seal(&mut self, thing: &str, one: &ChainPart, other: &ChainPart) {
        let (Some(a), Some(b)) = (one.ends.last(), other.ends.first()) else {
            return;
        };
        let (male, female) = match (a.1, b.1) {
            (Sex::Male, Sex::Female) => (a.0, b.0),
            (Sex::Female, Sex::Male) => (b.0, a.0),
            _ => return,
        };
        let key = format!("{thing}.{}-{}", one.name, other.name);
        let Ok(mating) = mates(family(male.standard), family(female.standard)) else {
            return;
        };
        match mating.seal {
            SealsOn::Face => {
                let size = thread_size(male);
                let name = match size.map(|size| (size.designation(), washer(size))) {
                    Some((thread, Ok(washer))) => format!(
                        "copper washer for {thread}, {} outside",
                        show(washer.outside, None, quantity::System::Metric)
                    ),
                    Some((thread, Err(_))) => format!("washer for {thread}"),
                    None => "washer for a thread whose size no table has".to_owned(),
                };
                let note = "one to fit and one to spare; a washer is used once";
                self.asks
                    .push(pieces_of(Ware::Washer, name, 2.0, key, vec![note.into()]));
            }
            SealsOn::Thread | SealsOn::ThreadInDoubt => {
                let note = "tape starts one thread back from the end and goes on in the sense of screwing in";
                let mut ask = pieces_of(
                    Ware::Sealant,
                    "thread tape or paste for hot coolant".into(),
                    1.0,
                    key,
                    vec![note.into()],
                );
                // One roll or tube does for all.
                let there = self
                    .asks
                    .iter_mut()
                    .find(|known| known.ware == Ware::Sealant);
                match there {
                    Some(known) => known.wanted_by.append(&mut ask.wanted_by),
                    None => self.asks.push(ask),
                }
            }
            SealsOn::Seat | SealsOn::Nothing | SealsOn::Never => {}
        }
    }

    /// Caps for stubs that are blanked off.
    pub(super) fn blanks(&mut self) {
        for blank in &self.arranged.blanked {
            let Some((owner, part)) = blank.split_once('.') else {
                continue;
            };
            let way = self.boat().run(owner).and_then(|run| run.way.given());
            let tee = way.and_then(|way| way.iter().find(|known| known.name == part));
            let thing = self.boat().thing(owner);
            let spigot = thing.and_then(|thing| thing.spigot(part));
            let stub = match (tee.map(|tee| &tee.kind), spigot) {
                (Some(PieceKind::Tee { sizes, .. }), _) => Ok(boat::size_text(sizes[2])),
                (_, Some(spigot)) => match spigot.od.given() {
                    Some(od) => Ok(format!("{}", (od.value.to_mm() * 10.0).round() / 10.0)),
                    None => Err("Measure its outside diameter with a caliper."),
                },
                // A blanked cap is a lid, and is there.
                _ if part == "cap" => continue,
                _ => Err("Find out its thread and size, for a plug."),
            };
            let size = match stub {
                Ok(size) if size.ends_with("in") => size,
                Ok(size) => format!("{size} mm"),
                Err(how) => {
                    self.waits.push(Waits {
                        what: "blanking cap or plug".into(),
                        wanted_by: vec![blank.clone()],
                        because: "Its size is not known.".into(),
                        settles: Settles {
                            place: thing.map_or_else(|| blank.clone(), boat::Thing::path),
                            how: how.into(),
                        },
                        hidden: false,
                    });
                    continue;
                }
            };
            let name = format!("blanking cap for a {size} stub, with its clip");
            let note = "of a kind that stands hot coolant at the cap's pressure";
            self.asks.push(pieces_of(
                Ware::BlankingCap,
                name,
                1.0,
                blank.clone(),
                vec![note.into()],
            ));
        }
    }

    pub(super) fn coolant(&mut self) {
        let coolant = &self.boat().coolant;
        let kind = coolant.kind.given().map_or("glycol", String::as_str);
        let product = coolant.product.percent.given();
        let product = product.map_or(1.0, |product| product.value.to_f64());
        let what = if product < 1.0 {
            let mix = show(Ratio::of(product), None, System::Metric);
            format!("coolant, ready mix of {mix}, {kind}")
        } else {
            format!("coolant concentrate, {kind}")
        };
        if coolant.percent.given().is_none() {
            // Nothing is wanted where nothing is said of it at all.
            if !coolant.percent.is_left_out() || coolant.kind.given().is_some() {
                self.waits.push(Waits {
                    what,
                    wanted_by: vec!["coolant".into()],
                    because: "How much glycol is wanted is not written.".into(),
                    settles: Settles {
                        place: "coolant.wanted".into(),
                        how: "Write the share by volume: `percent = 45`.".into(),
                    },
                    hidden: false,
                });
            }
            return;
        }
        let instruments = &self.boat().instruments;
        let input = pour::input(self.arranged);
        if let Some(wrong) = &input.wrong {
            self.waits.push(Waits {
                what,
                wanted_by: vec!["coolant".into()],
                because: sentence("Volume of the circuit", wrong),
                settles: wrong.settles.clone(),
                hidden: false,
            });
            return;
        }
        let how = "Measure what runs out when she is drained, or what goes in when she is filled.";
        let volume =
            survey::known(&coolant.volume, "coolant.volume", how, instruments).or_else(|missing| {
                survey::known(&coolant.drained, "coolant.drained", how, instruments)
                    .map_err(|_| missing)
            });
        match volume {
            Ok(volume) => {
                // A share is wanted, so that there is always an answer.
                let Some(buy) = fill::to_buy(&input, &volume) else {
                    return;
                };
                let (litres, water) = (buy.most.0 * 1000.0, buy.most.1 * 1000.0);
                let shown = |cubic: f64, system: System| {
                    Volume::from_si(cubic)
                        .map_or_else(String::new, |volume| show(volume, None, system))
                };
                let measured = &volume.measured;
                let (value, high) = (measured.value.si(), measured.high.si());
                let at_most = |recipe: f64, most: f64| {
                    (most > recipe * (1.0 + 1e-9)).then(|| {
                        Words::of(|system| {
                            let why = if high > value {
                                format!(
                                    "the volume is ± {}",
                                    say::short_percent((high - value) / value)
                                )
                            } else {
                                "what stays inside is not sure".to_owned()
                            };
                            format!(
                                "at most, as {why}; the recipe for {} takes {}",
                                shown(value, system),
                                shown(recipe, system)
                            )
                        })
                    })
                };
                let waterless = coolant
                    .kind
                    .given()
                    .is_some_and(|kind| KindFacts::of(kind).waterless);
                let by_drained = coolant.volume.given().is_none();
                let mut notes: Vec<Words> = at_most(buy.recipe.0, buy.most.0).into_iter().collect();
                let mut of_water: Vec<Words> =
                    at_most(buy.recipe.1, buy.most.1).into_iter().collect();
                if let Some(off) = buy.taken_off {
                    let off = Words::of(|system| {
                        format!(
                            "what stays inside is taken off, {} at the least",
                            shown(off, system)
                        )
                    });
                    notes.push(off.clone());
                    of_water.push(off);
                } else if input.inside.is_err() && !by_drained {
                    notes.push("what stays inside is not known and not taken off".into());
                }
                if buy.flushed {
                    notes.push(
                        "the old goes out first, by flushing with water: it does not go together with this"
                            .into(),
                    );
                }
                notes.extend([
                    Words::from(
                        "poured in first, before any water, since some old water stays in the low spots",
                    ),
                    Words::from(
                        "poison: keep it from children and animals, and out of bilge and drain",
                    ),
                ]);
                if by_drained {
                    notes.push(
                        "reckoned from what was drained; what stayed inside comes on top".into(),
                    );
                }
                let litres_of = |ware: Ware, name: String, litres: f64, notes: Vec<Words>| Ask {
                    ware,
                    name,
                    // What rounding puts a hair over a tenth is that tenth.
                    amount: (litres * 10.0 - 1e-6).ceil().max(0.0) / 10.0,
                    measure: Measure::Litres,
                    wanted_by: vec!["coolant".into()],
                    notes,
                };
                self.asks
                    .push(litres_of(Ware::Coolant, what, litres, notes));
                if !waterless && water > 1e-6 {
                    self.asks.push(litres_of(
                        Ware::Water,
                        "de-ionised water".into(),
                        water,
                        of_water,
                    ));
                }
            }
            Err(missing) => self.waits.push(Waits {
                what,
                wanted_by: vec!["coolant".into()],
                because: sentence("Volume of the circuit", &missing),
                settles: missing.settles,
                hidden: false,
            }),
        }
    }

    /// What the owner wants renewed beside hose and clips.
    pub(super) fn also(&mut self) {
        let boat = self.boat();
        let engine = boat.things.iter().find_map(|thing| thing.engine.as_ref());
        let spare = |word: &str| {
            let aboard = boat.stock.aboard.iter();
            aboard
                .filter(|text| text.to_lowercase().starts_with(word))
                .map(|text| {
                    format!("aboard already: {text}; it stays as the spare")
                        .as_str()
                        .into()
                })
                .collect::<Vec<Words>>()
        };
        for renewal in &boat.job.also {
            let (ware, name, place, how, notes) = match renewal {
                Renewal::Cap => {
                    let caps: Vec<String> = boat
                        .things
                        .iter()
                        .filter_map(|thing| thing.cap.given())
                        // As it is stamped and asked for: `10 psi`.
                        .map(|cap| quantity::file_value(cap.value, cap.unit))
                        .collect();
                    let name = caps.first().map(|cap| format!("pressure cap, {cap}"));
                    let how = "Read what is stamped on the pressure cap.";
                    (Ware::PressureCap, name, "engine.cap", how, spare("cap"))
                }
                Renewal::Stat => {
                    let stat = engine.map(|engine| &engine.stat);
                    let name = stat.and_then(|stat| {
                        let opens = stat.opens.given()?;
                        let opens = show(opens.value, None, quantity::System::Metric);
                        let gasket = stat.gasket.given().map_or("its gasket", String::as_str);
                        Some(format!(
                            "thermostat that opens at {opens}, with gasket: {gasket}"
                        ))
                    });
                    let how = "Read the temperature stamped on the thermostat.";
                    (
                        Ware::Thermostat,
                        name,
                        "engine.stat.opens",
                        how,
                        spare("stat"),
                    )
                }
                Renewal::Belt => {
                    let belt = engine.and_then(|engine| engine.belt.given());
                    let name = belt.map(|belt| format!("belt, {belt}"));
                    let how = "Read what is printed on the old belt.";
                    (Ware::Belt, name, "engine.belt", how, spare("belt"))
                }
            };
            match name {
                Some(name) => self
                    .asks
                    .push(pieces_of(ware, name, 1.0, "engine".into(), notes)),
                None => self.waits.push(Waits {
                    what: ware.word().to_owned(),
                    wanted_by: vec!["engine".into()],
                    because: "What is to be asked for is not written.".into(),
                    settles: Settles {
                        place: place.to_owned(),
                        how: how.to_owned(),
                    },
                    hidden: false,
                }),
            }
        }
    }
}

fn pieces_of(ware: Ware, name: String, count: f64, key: Key, notes: Vec<Words>) -> Ask {
    Ask {
        ware,
        name,
        amount: count,
        measure: Measure::Pieces,
        wanted_by: vec![key],
        notes,
    }
}
