//! What `like` takes over, and what becomes of a cap that is blanked off or taken out.

use boat::{Boat, Thing, Told};

/// Reads a file that must be without remarks.
fn clean(text: &str) -> Boat {
    let (boat, _, remarks) = boat::read(text);
    let said: Vec<String> = remarks.iter().map(|r| r.message.clone()).collect();
    assert_eq!(said, Vec::<String>::new(), "{text}");
    boat
}

/// A thing with a value under every key, which no real thing has.
const WHOLE: &str = r#"
version = 1
lengths = "mm"
[engine]
power = "46 kW @ 2600 rpm"
layout = "header tank apart"
paths = ["in > block > out"]
stat = { opens = "80 °C", full = "92 °C", bypass = "disc", hole = 3, control = "outlet", bore = 35, closes_at = "77 °C", gasket = "paper" }
alarm = { at = "98 °C", senses = "head", tried = "2024" }
heat = "30 kW"
idle_heat = "4 kW"
burns = "turbo"
manifold = "wet"
drop = "15 kPa @ 72 L/min"
volume = "7 L"
pump = { drive = "belt", ratio = 1.15, curve = "0 L/min 9 m, 50 L/min 7 m, 90 L/min 3 m" }
moves = 7
belt = "13 x 1050"
gearbox = { oil_normal = "60 °C", loses = "3 %", cooler = "whole" }
header = { volume = "3 L", sight_glass = true, cold_mark = 455 }
cap = "0.9 bar"
cap_h = 520
h = 100
aside = "on the centre line"
along = "0.4 m abaft amidships"
spigots.out = { od = 38.1, bead = 40.7, h = 330, aside = "90 to port", along = "0.1 m ahead of amidships" }
[runs]
hot = { from = "engine.out", to = "whole.a" }
[things.fwd]
kind = "hull fitting"
[things.aft]
kind = "hull fitting"
[things.whole]
kind = "heat exchanger"
chain = "stub G1-1/4 male steel + ball valve G1-1/4 F F bronze + tail G1-1/4 M x 38 barbed bronze"
spigots.a = { od = 38.1, bead = 40.7, behind_bead = 32, bead_width = 4, form = "beaded", metal = "copper", h = 60, aside = "210 to starboard", along = "1.1 m abaft amidships" }
spigots.b = { hidden = { over_hose = 49, free_hose = 47, print = "38 mm" } }
ports.drain = { thread = "G1/2 F", male_od = 20.8, female_id = 18.7, ten_pitches = 18.1, taper = "0.5 over 8", metal = "brass", h = 40 }
h = -230
aside = "240 to starboard"
along = "1.2 m abaft amidships"
valve = { worked = "2025-10", feels = "free", reach = "board 4", secs = 25, drowned_at = -170 }
cap = "10 psi"
cap_h = 760
volume = "5.5 L"
sight_glass = true
cold_mark = 660
pipes = { count = 4, joined = "series", form = "box", od = 60.3, wall = 2.9, length = 2400, metal = "steel", coat = "primer", paint = 0.3 }
channel = { width = 180, depth = 40, length = 5600, wall = 6, metal = "steel", paint = 0.3 }
tubes = { count = 40, passes = 2, od = 8, wall = 0.7, length = 300, metal = "cupro-nickel" }
arrangement = "counter"
lies = "side"
aft_of_bow = 3200
sees_speed = "60 %"
fouling = "slime"
drop = "4 kPa @ 60 L/min"
ua = "180 W/K"
takes = "4 kW"
air = "20 °C"
works_at = "1 bar"
gives = "70 L/min @ 2600 rpm"
curve = "0 L/min 9 m, 50 L/min 7 m, 90 L/min 3 m @ 2600 rpm"
depth = 480
between = ["fwd", "aft"]
tank = "40 L"
coil = { skins = 1, bore = 14, top_h = 540 }
paths = ["a > shell > b"]
in = "hot"
"#;

/// The thing of that name as the arrangement `after` has it.
fn after(text: &str, thing: &str) -> Thing {
    let boat = clean(text).arranged(Some("after")).unwrap().boat;
    boat.thing(thing).unwrap().clone()
}

#[test]
fn in_its_own_place_everything_is_taken_over() {
    let boat = clean(WHOLE);
    for name in ["whole", "engine"] {
        let text =
            format!("{WHOLE}[arrangements.after]\nreplace.{name} = {{ like = \"{name}\" }}\n");
        let copy = Thing {
            like: None,
            ..after(&text, name)
        };
        assert_eq!(&copy, boat.thing(name).unwrap());
    }
}

#[test]
fn in_another_place_the_part_is_taken_over_and_the_place_is_not() {
    let boat = clean(&format!("{WHOLE}[things.copy]\nlike = \"whole\"\n"));
    let (whole, copy) = (boat.thing("whole").unwrap(), boat.thing("copy").unwrap());
    let mut due = Thing {
        key: "copy".into(),
        like: Some("whole".into()),
        height: Told::LeftOut,
        aside: Told::LeftOut,
        along: Told::LeftOut,
        valve: None,
        cap_height: Told::LeftOut,
        ..whole.clone()
    };
    for spigot in &mut due.spigots {
        spigot.height = Told::LeftOut;
        spigot.aside = Told::LeftOut;
        spigot.along = Told::LeftOut;
        spigot.hidden = None;
    }
    due.ports[0].height = Told::LeftOut;
    due.detail.depth = Told::LeftOut;
    due.detail.outside = boat::Outside::default();
    due.detail.duty.air = Told::LeftOut;
    due.detail.between = Vec::new();
    due.detail.cold_mark = Told::LeftOut;
    due.detail.on_run = None;
    due.detail.coil.as_mut().unwrap().top_height = Told::LeftOut;
    assert_eq!(copy, &due);
    // What belongs to the part is there, or nothing would have been looked at.
    assert!(copy.cap.given().is_some() && copy.detail.sight_glass == Told::Given(true));
    let (duty, was) = (&copy.detail.duty, &whole.detail);
    assert!(duty.ua.given().is_some() && duty.curve.given().is_some());
    assert!(was.outside.lies.given().is_some() && was.duty.air.given().is_some());
    assert!(whole.aside.given().is_some() && whole.spigots[0].along.given().is_some());
    assert!(copy.detail.channel.is_some() && copy.detail.tubes.is_some());
}

#[test]
fn one_key_typed_anew_leaves_its_neighbours() {
    let text = format!(
        "{WHOLE}[things.copy]\nlike = \"whole\"\npipes.length = 2000\nspigots.a.od = 37.9\nports.drain.female_id = 18.5\n"
    );
    let boat = clean(&text);
    let (whole, copy) = (boat.thing("whole").unwrap(), boat.thing("copy").unwrap());
    let pipes = |thing: &Thing| thing.detail.pipes.clone().unwrap();
    assert_ne!(pipes(copy).length, pipes(whole).length);
    assert_eq!(pipes(copy).od, pipes(whole).od);
    assert_ne!(copy.spigots[0].od, whole.spigots[0].od);
    assert_eq!(copy.spigots[0].bead, whole.spigots[0].bead);
    assert_ne!(copy.ports[0].female_id, whole.ports[0].female_id);
    assert_eq!(copy.ports[0].thread, whole.ports[0].thread);
}

#[test]
fn a_new_stack_has_no_history() {
    let text = format!(
        "{WHOLE}[arrangements.after]\nreplace.whole = {{ like = \"whole\", chain = \"stub G1-1/4 male bronze + tail G1-1/4 F x 38 barbed bronze\" }}\n"
    );
    let (old, new) = (
        clean(WHOLE).thing("whole").unwrap().valve.clone().unwrap(),
        after(&text, "whole").valve.unwrap(),
    );
    assert_eq!((&new.reach, &new.drowned_at), (&old.reach, &old.drowned_at));
    assert!(new.worked.is_left_out() && new.feels.is_left_out() && new.secs.is_left_out());
}

#[test]
fn another_tail_keeps_nothing_that_was_measured_of_the_old_one() {
    const FITTING: &str = "version = 1\nlengths = \"mm\"\n[things.hull]\nkind = \"hull fitting\"\n\
        chain = \"stub G1 male bronze + tail G1 F x 25 barbed brass\"\n\
        spigots.tail = { od = 25.4, bead = 27, behind_bead = 45, h = -300 }\n[arrangements.after]\n";
    let tail = |chain: &str| {
        let text = format!("{FITTING}replace.hull = {{ like = \"hull\", chain = \"{chain}\" }}\n");
        after(&text, "hull").spigot("tail").unwrap().clone()
    };
    let kept = tail("stub G1 male steel + tail G1 F x 25 barbed brass");
    assert!(!kept.od.is_left_out() && !kept.behind_bead.is_left_out());
    let new = tail("stub G1 male bronze + tail G1 F x 25 barbed DZR");
    assert!(new.od.is_left_out() && new.bead.is_left_out() && new.behind_bead.is_left_out());
    assert!(!new.height.is_left_out(), "it comes where the old one was");
    assert_eq!(new.metal, Told::Given(boat::Metal::Dzr));
}

/// The caps in force once the arrangement `last` is made: thing, cap and seat.
fn caps(steps: &str) -> Vec<(String, bool)> {
    let text = format!(
        r#"
version = 1
lengths = "mm"
[engine]
cap = "0.9 bar"
cap_h = 520
[things.header]
kind = "header tank"
cap = "10 psi"
cap_h = 760
[arrangements]
{steps}
"#
    );
    let boat = clean(&text).arranged(Some("last")).unwrap().boat;
    boat.things
        .iter()
        .filter(|thing| !thing.cap.is_left_out() || !thing.cap_height.is_left_out())
        .map(|thing| (thing.key.clone(), !thing.cap_height.is_left_out()))
        .collect()
}

#[test]
fn a_cap_that_is_gone_is_not_in_force() {
    let check = |steps: &str, due: &[(&str, bool)]| {
        let due: Vec<(String, bool)> = due.iter().map(|(key, h)| ((*key).to_owned(), *h)).collect();
        assert_eq!(caps(steps), due, "{steps}");
    };
    let (engine, header) = (("engine", true), ("header", true));
    check("last = {}", &[engine, header]);
    check("last = { remove = [\"header\"] }", &[engine]);
    check("last = { blank = [\"engine.cap\"] }", &[header]);
    check(
        "last = { blank = [\"engine.cap\"], remove = [\"header\"] }",
        &[],
    );
    // A later step keeps it blanked, even where it replaces the thing by its like.
    check(
        "first = { blank = [\"header.cap\"] }\nlast = { from = \"first\", replace.header = { like = \"header\", volume = \"8 L\" } }",
        &[engine],
    );
    // A cap that is typed anew is in force.
    check(
        "first = { blank = [\"header.cap\"] }\nlast = { from = \"first\", replace.header = { like = \"header\", cap = \"7 psi\", cap_h = 770 } }",
        &[engine, header],
    );
    // In one and the same step the blanking wins.
    check(
        "last = { replace.header = { like = \"header\", cap = \"7 psi\" }, blank = [\"header.cap\"] }",
        &[engine],
    );
    // A copy of a thing whose cap is blanked off has a cap of its own.
    check(
        "last = { add.other = { like = \"header\", cap_h = 800 }, blank = [\"header.cap\"] }",
        &[engine, ("other", true)],
    );
    // Blanked off, taken out and put in again.
    check(
        "first = { blank = [\"header.cap\"] }\nsecond = { from = \"first\", remove = [\"header\"] }\nlast = { from = \"second\", add.header = { kind = \"header tank\", cap = \"7 psi\", cap_h = 700 } }",
        &[engine, header],
    );
}

#[test]
fn what_was_blanked_on_a_thing_that_is_gone_is_forgotten() {
    let text = r#"
version = 1
[engine]
cap = "0.9 bar"
[things.header]
kind = "header tank"
cap = "10 psi"
[arrangements]
first = { blank = ["header.cap", "engine.cap"] }
last = { from = "first", remove = ["header"] }
"#;
    let arranged = clean(text).arranged(Some("last")).unwrap();
    assert_eq!(arranged.blanked, ["engine.cap"]);
}
