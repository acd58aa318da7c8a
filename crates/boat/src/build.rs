//! Puts what was read into the model. Says nothing: remarks are made before and after.

use quantity::{Instrument, Instruments, NominalSize};

use crate::keys::{RUN, RUN_CHANGE, SEEN_AT};
use crate::model::*;
use crate::value::{Node, Said};
use crate::words::{Joined, Season, Word};

mod bay;
mod survey;

static NOTHING: Node = Node {
    said: Said::Unreadable,
};

fn sub<'n>(node: &'n Node, key: &str) -> &'n Node {
    node.get(key).unwrap_or(&NOTHING)
}

/// The whole boat.
pub(crate) fn boat(file: &Node) -> Boat {
    let mut things = Vec::new();
    if let Some(engine) = file.get("engine") {
        things.push(engine_thing(engine));
    }
    things.extend(
        sub(file, "things")
            .entries()
            .iter()
            .map(|(key, node)| thing(key, node)),
    );
    Boat {
        instruments: instruments(sub(file, "instruments")),
        about: about(sub(file, "boat")),
        things,
        runs: sub(file, "runs")
            .entries()
            .iter()
            .filter_map(|(key, node)| run(key, node))
            .collect(),
        joints: sub(file, "joints")
            .entries()
            .iter()
            .map(|(key, node)| joint(key, node))
            .collect(),
        seen: sub(file, "seen")
            .entries()
            .iter()
            .map(|(key, node)| seen(key, node))
            .collect(),
        arrangements: sub(file, "arrangements")
            .entries()
            .iter()
            .map(|(key, node)| arrangement(key, node))
            .collect(),
        survey: survey::survey(sub(file, "survey")),
        bay: bay::bay(sub(file, "bay")),
        states: sub(file, "states")
            .entries()
            .iter()
            .map(|(key, node)| state(key, node))
            .collect(),
        readings: sub(file, "readings")
            .entries()
            .iter()
            .map(|(when, node)| sitting(when, node))
            .collect(),
        coolant: coolant(sub(file, "coolant")),
        stock: Stock {
            clips: sub(file, "stock").list("clips"),
            hose: sub(file, "stock").list("hose"),
            parts: sub(file, "stock").list("parts"),
            aboard: sub(file, "stock").list("aboard"),
        },
        prices: sub(file, "prices")
            .entries()
            .iter()
            .map(|(key, node)| price(key, node))
            .collect(),
        job: job(sub(file, "job")),
    }
}

fn instruments(node: &Node) -> Instruments {
    let mut instruments = Instruments::usual();
    for (name, width) in node.entries() {
        if let (Some(instrument), Some(width)) =
            (Instrument::parse(name), width.as_told().given_owned())
        {
            instruments.set(instrument, width);
        }
    }
    instruments
}

fn about(node: &Node) -> About {
    let (waterline, sea, bilge) = (sub(node, "waterline"), sub(node, "sea"), sub(node, "bilge"));
    let rules: Vec<String> = node.list("rules");
    About {
        name: node.told("name"),
        hull: node.word("kind"),
        hull_stuff: node.word("hull"),
        uses: node.list("use"),
        rules: rules
            .into_iter()
            .map(|text| Rule {
                governs: Governs::from_word(&text),
                text,
            })
            .collect(),
        now: node.word("now"),
        sea: Sea {
            summer: sea.told("summer"),
            winter: sea.told("winter"),
            salinity: sea.told("salinity"),
        },
        waterline: Waterline {
            laden: waterline.told("laden"),
            light: waterline.told("light"),
        },
        bilge: Bilge {
            floor: bilge.told("floor"),
            drowns_engine: bilge.told("drowns_engine"),
            free_to_there: bilge.told("free_to_there"),
            pump_says: bilge.told("pump_says"),
        },
    }
}

fn engine_thing(node: &Node) -> Thing {
    let (stat, header, alarm) = (sub(node, "stat"), sub(node, "header"), sub(node, "alarm"));
    let (pump, gearbox) = (sub(node, "pump"), sub(node, "gearbox"));
    let engine = Engine {
        power: node.told("power"),
        layout: node.told("layout"),
        paths: node.list("paths"),
        stat: thermostat(stat),
        alarm: Alarm {
            at: alarm.told("at"),
            senses: alarm.told("senses"),
            tried: alarm.told("tried"),
        },
        heat: node.told("heat"),
        idle_heat: node.told("idle_heat"),
        burns: node.word("burns"),
        manifold: node.word("manifold"),
        moves: node.told("moves"),
        belt: node.told("belt"),
        extra: EngineExtra {
            header_volume: header.told("volume"),
            header_sight_glass: header.told("sight_glass"),
            header_cold_mark: header.told("cold_mark"),
            header_above_mark: header.told("above_mark"),
            pump_drive: pump.told("drive"),
            pump_ratio: pump.told("ratio"),
            pump_curve: pump.told("curve"),
            gearbox_oil_normal: gearbox.told("oil_normal"),
            gearbox_loses: gearbox.told("loses"),
            gearbox_cooler: name(gearbox, "cooler"),
        },
    };
    Thing {
        key: Thing::ENGINE.to_owned(),
        kind: Told::Given(ThingKind::Engine),
        spigots: spigots(node),
        ports: ports(node),
        height: node.told("h"),
        aside: node.told("aside"),
        along: node.told("along"),
        cap: node.told("cap"),
        cap_height: either_place(node.told("cap_h"), header.told("cap_h")),
        engine: Some(engine),
        detail: Detail {
            volume: node.told("volume"),
            duty: duty(node),
            ..Detail::default()
        },
        ..Thing::default()
    }
}

fn thermostat(node: &Node) -> Stat {
    Stat {
        opens: node.told("opens"),
        full: node.told("full"),
        bypass: node.told("bypass"),
        bypass_bore: node.told("bypass_bore"),
        hole: node.told("hole"),
        control: node.word("control"),
        bore: node.told("bore"),
        closes_at: node.told("closes_at"),
        gasket: node.told("gasket"),
    }
}

/// What an engine has that stands among the things: a second one.
fn second_engine(node: &Node) -> Option<Engine> {
    let engine = node.word::<ThingKind>("kind").given() == Some(&ThingKind::Engine);
    let typed = node.get("layout").is_some() || node.get("stat").is_some();
    (engine || typed).then(|| Engine {
        layout: node.told("layout"),
        paths: node.list("paths"),
        stat: thermostat(sub(node, "stat")),
        ..Engine::default()
    })
}

/// One size that may be typed in two places: where both are and differ, they are two readings.
fn either_place<T: PartialEq>(one: Told<T>, other: Told<T>) -> Told<T> {
    match (one, other) {
        (Told::Given(one), Told::Given(other)) if one != other => Told::Two(one, other),
        (one, other) => one.or(other),
    }
}

fn thing(key: &str, node: &Node) -> Thing {
    let (pipes, coil, valve) = (node.get("pipes"), node.get("coil"), node.get("valve"));
    let (channel, tubes) = (node.get("channel"), node.get("tubes"));
    let mut thing = Thing {
        key: key.to_owned(),
        kind: node.word("kind"),
        like: name(node, "like"),
        spigots: spigots(node),
        ports: ports(node),
        chain: node.given("chain").unwrap_or_default(),
        height: node.told("h"),
        aside: node.told("aside"),
        along: node.told("along"),
        valve: valve.map(|valve| Valve {
            worked: valve.told("worked"),
            feels: valve.told("feels"),
            reach: valve.told("reach"),
            secs: valve.told("secs"),
            drowned_at: valve.told("drowned_at"),
        }),
        cap: node.told("cap"),
        cap_height: node.told("cap_h"),
        engine: second_engine(node),
        detail: Detail {
            pipes: pipes.map(|pipes| Pipes {
                count: pipes.told("count"),
                in_series: pipes
                    .word::<Joined>("joined")
                    .map(|joined| joined == Joined::Series),
                form: pipes.word("form"),
                od: pipes.told("od"),
                wall: pipes.told("wall"),
                length: pipes.told("length"),
                metal: pipes.word("metal"),
                coat: pipes.told("coat"),
                paint: pipes.told("paint"),
            }),
            channel: channel.map(|channel| Channel {
                width: channel.told("width"),
                depth: channel.told("depth"),
                length: channel.told("length"),
                wall: channel.told("wall"),
                metal: channel.word("metal"),
                paint: channel.told("paint"),
            }),
            tubes: tubes.map(|tubes| Tubes {
                count: tubes.told("count"),
                passes: tubes.told("passes"),
                od: tubes.told("od"),
                wall: tubes.told("wall"),
                length: tubes.told("length"),
                metal: tubes.word("metal"),
            }),
            streams: node.word("arrangement"),
            outside: Outside {
                lies: node.word("lies"),
                aft_of_bow: node.told("aft_of_bow"),
                fouling: node.word("fouling"),
                sees_speed: node.told("sees_speed"),
            },
            duty: duty(node),
            depth: node.told("depth"),
            between: names(node, "between"),
            tank: node.told("tank"),
            coil: coil.map(|coil| Coil {
                skins: coil.told("skins"),
                bore: coil.told("bore"),
                top_height: coil.told("top_h"),
            }),
            paths: node.list("paths"),
            volume: node.told("volume"),
            sight_glass: node.told("sight_glass"),
            cold_mark: node.told("cold_mark"),
            above_mark: node.told("above_mark"),
            isolated: node.told("isolated"),
            stands: node.told("stands"),
            on_run: name(node, "in"),
        },
    };
    thing.spigot_of_chain();
    thing
}

fn duty(node: &Node) -> Duty {
    Duty {
        drop: node.told("drop"),
        raw_drop: node.told("raw_drop"),
        nozzle: node.told("nozzle"),
        ua: node.told("ua"),
        takes: node.told("takes"),
        air: node.told("air"),
        works_at: node.told("works_at"),
        gives: node.told("gives"),
        curve: node.told("curve"),
    }
}

fn spigots(node: &Node) -> Vec<Spigot> {
    let mut all = Vec::new();
    for (key, node) in sub(node, "spigots").entries() {
        if key == "both" {
            all.extend(["a", "b"].map(|name| spigot(name, node)));
        } else {
            all.push(spigot(key, node));
        }
    }
    all
}

fn spigot(name: &str, node: &Node) -> Spigot {
    let hidden = node.get("hidden").map(|hidden| {
        let print: Told<String> = hidden.told("print");
        Hidden {
            over_hose: hidden.told("over_hose"),
            free_hose: hidden.told("free_hose"),
            print_bore: print.given().and_then(|print| printed_bore(print)),
            print,
        }
    });
    Spigot {
        name: name.to_owned(),
        od: node.told("od"),
        bead: node.told("bead"),
        behind_bead: node.told("behind_bead"),
        bead_width: node.told("bead_width"),
        form: node.word("form"),
        metal: node.word("metal"),
        height: node.told("h"),
        aside: node.told("aside"),
        along: node.told("along"),
        hidden,
    }
}

/// The bore in what is printed on a hose: its first size, as in `38 mm EPDM 2011`.
fn printed_bore(print: &str) -> Option<NominalSize> {
    let words: Vec<&str> = print.split_whitespace().collect();
    // The longest run of words that reads as a size: `1 1/2 in` before `1`.
    (0..words.len()).find_map(|from| {
        (from + 1..=words.len().min(from + 3)).rev().find_map(|to| {
            let size = NominalSize::parse(&words[from..to].join(" ")).ok()?;
            let bore = size.as_length().to_mm();
            (4.0..=160.0).contains(&bore).then_some(size)
        })
    })
}

fn ports(node: &Node) -> Vec<Port> {
    let port = |(key, node): &(String, Node)| {
        let thread: Told<(Thread, Option<Sex>)> = node.told("thread");
        Port {
            name: key.clone(),
            sex: thread.given().and_then(|(_, sex)| *sex),
            thread: thread.map(|(thread, _)| thread),
            male_od: node.told("male_od"),
            female_id: node.told("female_id"),
            ten_pitches: node.told("ten_pitches"),
            taper: node.told("taper"),
            metal: node.word("metal"),
            height: node.told("h"),
            anode: node.get("anode").map(|node| Anode {
                left: node.told("left"),
                seen: node.told("seen"),
                tape: node.told("tape"),
            }),
        }
    };
    sub(node, "ports").entries().iter().map(port).collect()
}

fn ended(node: &Node, key: &str) -> Option<(String, Option<String>)> {
    node.given(key)
}

/// A name, with what stands after its dot.
fn name(node: &Node, key: &str) -> Option<Key> {
    ended(node, key).map(whole)
}

fn names(node: &Node, key: &str) -> Vec<Key> {
    node.list::<(String, Option<String>)>(key)
        .into_iter()
        .map(whole)
        .collect()
}

fn whole((first, second): (String, Option<String>)) -> Key {
    second.map_or(first.clone(), |second| format!("{first}.{second}"))
}

/// An end as typed; whether its first part is a run or a thing is settled when all are known.
fn end(node: &Node, key: &str) -> Option<RunEnd> {
    ended(node, key).map(|(thing, spigot)| RunEnd::Thing { thing, spigot })
}

fn run(key: &str, node: &Node) -> Option<Run> {
    Some(Run {
        key: key.to_owned(),
        mark: node.given("mark"),
        from: end(node, "from")?,
        to: end(node, "to")?,
        carries: node.word("carries").given_owned().unwrap_or_default(),
        length: node.told("length"),
        bends: node.told("bends"),
        way: node.told("way"),
        high_at: node.told("high_at"),
        low_at: node.told("low_at"),
    })
}

fn joint(key: &str, node: &Node) -> JointNote {
    JointNote {
        joint: key.to_owned(),
        clip: node.told("clip"),
        clips: node.told("clips"),
        fitted_od: node.told("fitted_od"),
        hose_bore: node.told("hose_bore"),
        hose_over: node.told("hose_over"),
        trial_fit: node.told("trial_fit"),
        reused_hose: node.told("reused_hose"),
        clip_kind: node.word("clip_kind"),
        ring_on_first: node.told("ring_on_first"),
        spigot: spigot(key, node),
    }
}

fn seen(key: &str, node: &Node) -> Seen {
    let own = |(word, node): &(String, Node)| {
        let known = SEEN_AT.keys.iter().any(|row| row.name == *word);
        (!known)
            .then(|| {
                node.as_told()
                    .given_owned()
                    .map(|text| (word.clone(), text))
            })
            .flatten()
    };
    Seen {
        subject: key.to_owned(),
        words: node.entries().iter().filter_map(own).collect(),
        found: words(node, "found"),
        made: node.told("made"),
        magnet: node.word("magnet"),
        decided: node.word("decided"),
        not_seen: node.given("not_seen"),
        photos: node.list("photo"),
    }
}

fn arrangement(key: &str, node: &Node) -> Arrangement {
    let mut arrangement = Arrangement {
        key: key.to_owned(),
        from: name(node, "from"),
        remove: names(node, "remove"),
        blank: names(node, "blank"),
        shut: names(node, "shut"),
        tried: node.told("tried"),
        ..Arrangement::default()
    };
    for (key, node) in sub(node, "replace").entries() {
        if node.is(&RUN_CHANGE) {
            arrangement.replace_runs.push(RunChange {
                key: key.clone(),
                from: end(node, "from"),
                to: end(node, "to"),
                length: node.told("length"),
                bends: node.told("bends"),
                way: node.told("way"),
                high_at: node.told("high_at"),
                low_at: node.told("low_at"),
            });
        } else {
            arrangement.replace_things.push(thing(key, node));
        }
    }
    for (key, node) in sub(node, "add").entries() {
        if node.is(&RUN) {
            arrangement.add_runs.extend(run(key, node));
        } else {
            arrangement.add_things.push(thing(key, node));
        }
    }
    arrangement
}

fn state(key: &str, node: &Node) -> State {
    State {
        key: key.to_owned(),
        rpm: node.told("rpm"),
        speed: node.told("speed"),
        alternator: node.told("alternator"),
        sea: node
            .word::<Season>("sea")
            .map(|season| season.word().to_owned()),
        power: node.told("power"),
        tide: node.told("tide"),
        raw: node.told("raw"),
        heaters: node.told("heaters"),
    }
}

fn sitting(when: &str, node: &Node) -> Sitting {
    let place = |(key, node): &(String, Node)| {
        let known = matches!(key.as_str(), "state" | "sea" | "steady");
        (!known)
            .then(|| {
                node.as_told()
                    .given_owned()
                    .map(|reading| (key.clone(), reading))
            })
            .flatten()
    };
    Sitting {
        when: when.to_owned(),
        state: name(node, "state"),
        steady: node.told("steady"),
        sea: node.told("sea"),
        temperatures: node.entries().iter().filter_map(place).collect(),
    }
}

fn coolant(node: &Node) -> Coolant {
    let wanted = sub(node, "wanted");
    let product = sub(node, "product");
    let inside = sub(node, "inside");
    let reading = sub(node, "reading");
    Coolant {
        kind: wanted.told("kind"),
        percent: wanted.told("percent"),
        stand_frost: wanted.told("stand_frost"),
        volume: node.told("volume"),
        drained: node.told("drained"),
        product: Product {
            percent: product.told("percent"),
            least: product.told("least"),
        },
        inside: Inside {
            volume: inside.told("volume"),
            percent: inside.told("percent"),
            kind: inside.told("kind"),
        },
        reading: CoolantReading {
            refractometer: reading.told("refractometer"),
            hydrometer: reading.told("hydrometer"),
            scale: reading.told("scale"),
            at: reading.told("at"),
            stat_opened: reading.told("stat_opened"),
        },
    }
}

fn price(key: &str, node: &Node) -> PriceEntry {
    PriceEntry {
        key: key.to_owned(),
        name: single_spaced(key),
        each: node.told("each"),
        per: node.word("per"),
        pack: node.told("pack"),
        days: node.told("days"),
        returnable: node.told("returnable"),
        shop: node.told("shop"),
        lengths: node.list("lengths"),
    }
}

/// A text with one space between its words and none around.
fn single_spaced(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The choices of a list of words.
fn words<T: Word>(node: &Node, key: &str) -> Vec<T> {
    let items = node.get(key).map_or(&[][..], Node::items);
    let choices = items.iter().filter_map(|node| node.as_word().given_owned());
    choices.collect()
}

fn job(node: &Node) -> Job {
    Job {
        days_off: node.told("days_off"),
        year: node.told("year"),
        sleep_aboard: node.told("sleep_aboard"),
        renew: node.told("renew"),
        misfit_risk: node.told("misfit_risk"),
        kerf: node.told("kerf"),
        also: words(node, "also"),
        assume: words(node, "assume"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_in_two_places_is_two_readings_where_they_differ() {
        let given = Told::Given;
        assert_eq!(either_place(given(1), given(2)), Told::Two(1, 2));
        assert_eq!(either_place(given(1), given(1)), given(1));
        assert_eq!(either_place(Told::LeftOut, given(2)), given(2));
        assert_eq!(either_place(given(1), Told::LeftOut), given(1));
    }

    #[test]
    fn the_bore_is_found_in_a_print() {
        let check = |print: &str, bore: Option<NominalSize>| {
            assert_eq!(printed_bore(print), bore, "{print}")
        };
        check("38 mm EPDM 2011", Some(NominalSize::mm(38)));
        check("EPDM 38 2011", Some(NominalSize::mm(38)));
        check("1 1/2 in coolant", Some(NominalSize::sixty_fourths(96)));
        check("worn off", None);
        check("2011", None);
    }
}
