//! `like`: one thing takes over the part that another is, field by field.
//!
//! Every structure is taken apart in full, so that a new field does not compile until somebody has
//! said whether it belongs to the part, to the place, or to what was found there.

use crate::model::{
    Alarm, Anode, ChainPart, Channel, Coil, Detail, Duty, Engine, EngineExtra, Hidden, Outside,
    Pipes, Port, Spigot, Stat, Thing, ThingKind, Told, Tubes, Valve,
};

/// Whether the model stands in the very place of the copy: `replace.keel-aft = { like = "keel-aft" }`.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Place {
    Same,
    Another,
}

/// Takes over what was not typed anew.
fn fill<T: Clone>(own: &mut Told<T>, model: &Told<T>) {
    if own.is_left_out() {
        own.clone_from(model);
    }
}

/// Takes over what belongs to the place and not to the part: a height, a depth.
fn fill_in_place<T: Clone>(own: &mut Told<T>, model: &Told<T>, place: Place) {
    if place == Place::Same {
        fill(own, model);
    }
}

fn fill_list<T: Clone>(own: &mut Vec<T>, model: &[T]) {
    if own.is_empty() {
        own.extend_from_slice(model);
    }
}

/// Takes over a table, of which some keys may have been typed anew.
fn fill_table<T: Clone + Default>(
    own: &mut Option<T>,
    model: Option<&T>,
    take: impl FnOnce(&mut T, &T),
) {
    if let Some(model) = model {
        take(own.get_or_insert_default(), model);
    }
}

impl Thing {
    /// Takes over the part of the thing that it is `like`. What belongs to the place (heights,
    /// where it lies) and what was found there (the state of a valve, what is hidden) is taken over
    /// only from the thing in whose place it comes.
    pub(crate) fn take_after(&mut self, things: &[Self]) {
        let Some(model) = self
            .like
            .as_ref()
            .and_then(|like| things.iter().find(|thing| thing.key == *like))
        else {
            return;
        };
        let place = if model.key == self.key {
            Place::Same
        } else {
            Place::Another
        };
        let Self {
            key: _,
            kind,
            like: _,
            spigots,
            ports,
            chain,
            height,
            aside,
            along,
            valve,
            cap,
            cap_height,
            engine,
            detail,
        } = model;
        fill(&mut self.kind, kind);
        let same_stack = self.chain.is_empty() || self.chain == *chain;
        // A stack may get another tail and keep its valve.
        let same_valve = same_stack || (valve_in(chain).is_some() && self.has_valve_of(model));
        let tail = |chain: &[ChainPart]| chain.iter().rfind(|part| part.tail.is_some()).cloned();
        let same_tail = same_stack || tail(&self.chain) == tail(chain);
        for part in spigots {
            let own = named(
                &mut self.spigots,
                |own| own.name == part.name,
                || Spigot {
                    name: part.name.clone(),
                    ..Spigot::default()
                },
            );
            if same_tail || part.name != "tail" {
                own.take_after(part, place);
            } else {
                // Another tail is another spigot in the same place: nothing that was measured of the
                // old one holds for it.
                fill_in_place(&mut own.height, &part.height, place);
                fill_in_place(&mut own.aside, &part.aside, place);
                fill_in_place(&mut own.along, &part.along, place);
            }
        }
        for part in ports {
            let own = named(
                &mut self.ports,
                |own| own.name == part.name,
                || Port {
                    name: part.name.clone(),
                    ..Port::default()
                },
            );
            own.take_after(part, place);
        }
        fill_list(&mut self.chain, chain);
        fill_in_place(&mut self.height, height, place);
        fill_in_place(&mut self.aside, aside, place);
        fill_in_place(&mut self.along, along, place);
        if place == Place::Same {
            fill_table(&mut self.valve, valve.as_ref(), |own, model| {
                own.take_after(model, same_valve);
            });
        }
        fill(&mut self.cap, cap);
        fill_in_place(&mut self.cap_height, cap_height, place);
        fill_table(&mut self.engine, engine.as_ref(), |own, model| {
            own.take_after(model, place);
        });
        self.detail.take_after(detail, place);
        self.spigot_of_chain();
    }

    /// Takes over how one gets at the valve of the thing in whose place it comes: that belongs to the place,
    /// whatever part comes there.
    pub(crate) fn stand_in_for(&mut self, old: &Self) {
        let fitting = Told::Given(ThingKind::HullFitting);
        if self.kind != fitting || old.kind != fitting {
            return;
        }
        if !self.chain.is_empty() && valve_in(&self.chain).is_none() {
            return;
        }
        fill_table(&mut self.valve, old.valve.as_ref(), |own, model| {
            own.take_after(model, false);
        });
    }

    /// Whether the valve of its stack is the same part as that of another thing's.
    pub fn has_valve_of(&self, other: &Self) -> bool {
        match (valve_in(&self.chain), valve_in(&other.chain)) {
            (Some(own), Some(other)) => {
                let part = |part: &ChainPart| (part.kind, part.ends.clone(), part.bore, part.metal);
                part(own) == part(other)
            }
            (None, None) => true,
            _ => false,
        }
    }

    /// Gives a stack that ends in a tail its spigot.
    pub(crate) fn spigot_of_chain(&mut self) {
        let tail = self
            .chain
            .iter()
            .find_map(|part| part.tail.map(|(_, form)| (form, part.metal)));
        let Some((form, metal)) = tail else { return };
        let own = named(
            &mut self.spigots,
            |own| own.name == "tail",
            || Spigot {
                name: "tail".into(),
                ..Spigot::default()
            },
        );
        fill(&mut own.form, &Told::Given(form));
        fill(&mut own.metal, &metal.map_or(Told::LeftOut, Told::Given));
    }
}

/// The valve of a stack.
fn valve_in(chain: &[ChainPart]) -> Option<&ChainPart> {
    chain.iter().find(|part| part.kind.is_valve())
}

/// The item that fits, made where there is none.
fn named<T>(items: &mut Vec<T>, fits: impl Fn(&T) -> bool, make: impl FnOnce() -> T) -> &mut T {
    let at = items.iter().position(fits).unwrap_or(items.len());
    if at == items.len() {
        items.push(make());
    }
    &mut items[at]
}

impl Spigot {
    fn take_after(&mut self, model: &Self, place: Place) {
        let Self {
            name: _,
            od,
            bead,
            behind_bead,
            bead_width,
            form,
            metal,
            height,
            aside,
            along,
            hidden,
        } = model;
        // A spigot that is measured anew is hidden no more.
        let bared = !self.od.is_left_out();
        fill(&mut self.od, od);
        fill(&mut self.bead, bead);
        fill(&mut self.behind_bead, behind_bead);
        fill(&mut self.bead_width, bead_width);
        fill(&mut self.form, form);
        fill(&mut self.metal, metal);
        fill_in_place(&mut self.height, height, place);
        fill_in_place(&mut self.aside, aside, place);
        fill_in_place(&mut self.along, along, place);
        if place == Place::Same && !bared {
            fill_table(&mut self.hidden, hidden.as_ref(), Hidden::take_after);
        }
    }
}

impl Hidden {
    fn take_after(&mut self, model: &Self) {
        let Self {
            over_hose,
            free_hose,
            print,
            print_bore,
        } = model;
        fill(&mut self.over_hose, over_hose);
        fill(&mut self.free_hose, free_hose);
        // The bore is read out of the print and goes with it.
        if self.print.is_left_out() {
            self.print.clone_from(print);
            self.print_bore = *print_bore;
        }
    }
}

impl Anode {
    fn take_after(&mut self, model: &Self) {
        let Self { left, seen, tape } = model;
        // The date belongs to what was seen.
        if self.left.is_left_out() {
            self.left.clone_from(left);
            fill(&mut self.seen, seen);
        }
        fill(&mut self.tape, tape);
    }
}

impl Port {
    fn take_after(&mut self, model: &Self, place: Place) {
        let Self {
            name: _,
            thread,
            sex,
            male_od,
            female_id,
            ten_pitches,
            taper,
            metal,
            height,
            anode,
        } = model;
        // The sex is typed after the thread and goes with it.
        if self.thread.is_left_out() {
            self.thread.clone_from(thread);
            self.sex = *sex;
        }
        fill(&mut self.male_od, male_od);
        fill(&mut self.female_id, female_id);
        fill(&mut self.ten_pitches, ten_pitches);
        fill(&mut self.taper, taper);
        fill(&mut self.metal, metal);
        fill_in_place(&mut self.height, height, place);
        // How far an anode is eaten away is found at each place anew; that there is one is not.
        match (place, anode) {
            (Place::Same, anode) => fill_table(&mut self.anode, anode.as_ref(), Anode::take_after),
            (_, Some(_)) => {
                self.anode.get_or_insert_default();
            }
            _ => {}
        }
    }
}

impl Valve {
    /// In the same place. How it worked and felt, and how long it took, goes with the old valve.
    fn take_after(&mut self, model: &Self, same_valve: bool) {
        let Self {
            worked,
            feels,
            reach,
            secs,
            drowned_at,
        } = model;
        if same_valve {
            fill(&mut self.worked, worked);
            fill(&mut self.feels, feels);
            fill(&mut self.secs, secs);
        }
        fill(&mut self.reach, reach);
        fill(&mut self.drowned_at, drowned_at);
    }
}

impl Detail {
    fn take_after(&mut self, model: &Self, place: Place) {
        let Self {
            pipes,
            channel,
            tubes,
            streams,
            outside,
            duty,
            depth,
            between,
            tank,
            coil,
            paths,
            volume,
            sight_glass,
            cold_mark,
            above_mark,
            isolated,
            stands,
            on_run,
        } = model;
        fill_table(&mut self.pipes, pipes.as_ref(), Pipes::take_after);
        fill_table(&mut self.channel, channel.as_ref(), Channel::take_after);
        fill_table(&mut self.tubes, tubes.as_ref(), Tubes::take_after);
        fill(&mut self.streams, streams);
        self.outside.take_after(outside, place);
        self.duty.take_after(duty, place);
        fill_in_place(&mut self.depth, depth, place);
        if place == Place::Same {
            fill_list(&mut self.between, between);
            self.on_run = self.on_run.take().or_else(|| on_run.clone());
        }
        fill(&mut self.tank, tank);
        fill_table(&mut self.coil, coil.as_ref(), |own, model| {
            own.take_after(model, place);
        });
        fill_list(&mut self.paths, paths);
        fill(&mut self.volume, volume);
        fill(&mut self.sight_glass, sight_glass);
        fill_in_place(&mut self.cold_mark, cold_mark, place);
        fill_in_place(&mut self.above_mark, above_mark, place);
        fill_in_place(&mut self.isolated, isolated, place);
        fill(&mut self.stands, stands);
    }
}

impl Pipes {
    fn take_after(&mut self, model: &Self) {
        let Self {
            count,
            in_series,
            form,
            od,
            wall,
            length,
            metal,
            coat,
            paint,
        } = model;
        fill(&mut self.count, count);
        fill(&mut self.in_series, in_series);
        fill(&mut self.form, form);
        fill(&mut self.od, od);
        fill(&mut self.wall, wall);
        fill(&mut self.length, length);
        fill(&mut self.metal, metal);
        fill(&mut self.coat, coat);
        fill(&mut self.paint, paint);
    }
}

impl Channel {
    fn take_after(&mut self, model: &Self) {
        let Self {
            width,
            depth,
            length,
            wall,
            metal,
            paint,
        } = model;
        fill(&mut self.width, width);
        fill(&mut self.depth, depth);
        fill(&mut self.length, length);
        fill(&mut self.wall, wall);
        fill(&mut self.metal, metal);
        fill(&mut self.paint, paint);
    }
}

impl Tubes {
    fn take_after(&mut self, model: &Self) {
        let Self {
            count,
            passes,
            od,
            wall,
            length,
            metal,
        } = model;
        fill(&mut self.count, count);
        fill(&mut self.passes, passes);
        fill(&mut self.od, od);
        fill(&mut self.wall, wall);
        fill(&mut self.length, length);
        fill(&mut self.metal, metal);
    }
}

impl Outside {
    fn take_after(&mut self, model: &Self, place: Place) {
        let Self {
            lies,
            aft_of_bow,
            fouling,
            sees_speed,
        } = model;
        fill_in_place(&mut self.lies, lies, place);
        fill_in_place(&mut self.aft_of_bow, aft_of_bow, place);
        fill_in_place(&mut self.fouling, fouling, place);
        fill_in_place(&mut self.sees_speed, sees_speed, place);
    }
}

impl Duty {
    fn take_after(&mut self, model: &Self, place: Place) {
        let Self {
            drop,
            raw_drop,
            nozzle,
            ua,
            takes,
            air,
            works_at,
            gives,
            curve,
        } = model;
        fill(&mut self.drop, drop);
        fill(&mut self.raw_drop, raw_drop);
        fill(&mut self.nozzle, nozzle);
        fill(&mut self.ua, ua);
        fill(&mut self.takes, takes);
        fill_in_place(&mut self.air, air, place);
        fill(&mut self.works_at, works_at);
        fill(&mut self.gives, gives);
        fill(&mut self.curve, curve);
    }
}

impl Coil {
    fn take_after(&mut self, model: &Self, place: Place) {
        let Self {
            skins,
            bore,
            top_height,
        } = model;
        fill(&mut self.skins, skins);
        fill(&mut self.bore, bore);
        fill_in_place(&mut self.top_height, top_height, place);
    }
}

impl Engine {
    fn take_after(&mut self, model: &Self, place: Place) {
        let Self {
            power,
            layout,
            paths,
            stat,
            alarm,
            heat,
            idle_heat,
            burns,
            manifold,
            moves,
            belt,
            extra,
        } = model;
        fill(&mut self.power, power);
        fill(&mut self.layout, layout);
        fill_list(&mut self.paths, paths);
        let Stat {
            opens,
            full,
            bypass,
            bypass_bore,
            hole,
            control,
            bore,
            closes_at,
            gasket,
        } = stat;
        fill(&mut self.stat.opens, opens);
        fill(&mut self.stat.full, full);
        fill(&mut self.stat.bypass, bypass);
        fill(&mut self.stat.bypass_bore, bypass_bore);
        fill(&mut self.stat.hole, hole);
        fill(&mut self.stat.control, control);
        fill(&mut self.stat.bore, bore);
        fill(&mut self.stat.closes_at, closes_at);
        fill(&mut self.stat.gasket, gasket);
        let Alarm { at, senses, tried } = alarm;
        fill(&mut self.alarm.at, at);
        fill(&mut self.alarm.senses, senses);
        fill_in_place(&mut self.alarm.tried, tried, place);
        fill(&mut self.heat, heat);
        fill(&mut self.idle_heat, idle_heat);
        fill(&mut self.burns, burns);
        fill(&mut self.manifold, manifold);
        fill(&mut self.moves, moves);
        fill(&mut self.belt, belt);
        self.extra.take_after(extra, place);
    }
}

impl EngineExtra {
    fn take_after(&mut self, model: &Self, place: Place) {
        let Self {
            header_volume,
            header_sight_glass,
            header_cold_mark,
            header_above_mark,
            pump_drive,
            pump_ratio,
            pump_curve,
            gearbox_oil_normal,
            gearbox_loses,
            gearbox_cooler,
        } = model;
        fill(&mut self.header_volume, header_volume);
        fill(&mut self.header_sight_glass, header_sight_glass);
        fill_in_place(&mut self.header_cold_mark, header_cold_mark, place);
        fill_in_place(&mut self.header_above_mark, header_above_mark, place);
        fill(&mut self.pump_drive, pump_drive);
        fill(&mut self.pump_ratio, pump_ratio);
        fill(&mut self.pump_curve, pump_curve);
        fill(&mut self.gearbox_oil_normal, gearbox_oil_normal);
        fill(&mut self.gearbox_loses, gearbox_loses);
        // Which thing cools it is no part of it.
        if place == Place::Same {
            self.gearbox_cooler = self
                .gearbox_cooler
                .take()
                .or_else(|| gearbox_cooler.clone());
        }
    }
}
