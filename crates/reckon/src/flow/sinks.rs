//! Coolers of the boat as parts of a branch: keel pipes, skin tanks, exchangers.

use std::f64::consts::PI;
use std::sync::Arc;

use boat::{Assume, Fouling, Lies, Metal, PipeForm, Streams, Thing, Told};
use quantity::{Quantity, Reading};
use reference::conduct::{Dirt, Wall, conductivity, fouling};
use reference::exchanger::Arrangement;
use reference::usual::{Measure, measure};

use super::desk::{Desk, PRACTICE};
use super::pieces::rough;
use crate::solve::net::{Cooler, Film, Geometry, Gives, Medium, Outside, Raw, Surface, Tubes, Ua};
use crate::verdict::Words;

/// Share of the boat's speed in a recess or behind a fin. Common practice, no source.
const RECESS: f64 = 0.5;
/// Where a keel cooler begins, as far aft of the bow as this, where nobody says [m]. Common practice, no source.
const AFT: f64 = 3.0;
/// Wall of a keel pipe where it may be assumed [m]: that of ordinary steel pipe of 2 in.
/// Source: ISO 4200, preferred thickness for 60.3 mm, from memory.
const KEEL_WALL: f64 = 0.0036;
/// Film round the tubes of an exchanger at the flow that its sheet gives [W/(m² K)]. Common practice, no source.
const SHELL: f64 = 2500.0;
/// By which power of the flow that film goes. Source: Kern and Bell-Delaware, 0.55 to 0.6.
const SHELL_POWER: f64 = 0.6;

/// A cooler with what it takes to tell of it.
pub(super) struct Sink {
    pub(super) cooler: Cooler,
    /// Outside surface [m²].
    pub(super) area: Option<f64>,
    /// Bore or hydraulic diameter [m].
    pub(super) bore: Option<f64>,
    /// Volume of coolant in it [m³].
    pub(super) volume: Option<f64>,
    /// Share of the boat's speed that it feels.
    pub(super) sees: f64,
}

/// A wall's metal in the table of conductivities.
fn wall(metal: Option<&Metal>) -> Option<Wall> {
    Some(match metal? {
        Metal::Steel | Metal::GalvanisedSteel | Metal::CastIron => Wall::Steel,
        Metal::Stainless304 | Metal::Stainless316 | Metal::Stainless => Wall::Stainless316,
        Metal::Aluminium => Wall::Aluminium,
        Metal::Copper => Wall::Copper,
        Metal::CuproNickel => Wall::CopperNickel10,
        // Copper alloys that no table here holds: as cupro-nickel, which conducts worst of them.
        Metal::Brass
        | Metal::Dzr
        | Metal::Gunmetal
        | Metal::Bronze
        | Metal::AluminiumBronze
        | Metal::ManganeseBronze => Wall::CopperNickel10,
        Metal::Titanium => Wall::Stainless316,
        Metal::Plastic => return None,
    })
}

fn conducts(of: Wall) -> f64 {
    conductivity(of).value.middle().si()
}

fn layer(dirt: Dirt) -> f64 {
    1.0 / fouling(dirt).value.middle().si()
}

/// What sits outside [m² K/W].
fn dirt(desk: &mut Desk, thing: &Thing, place: &str) -> Option<f64> {
    match thing.detail.outside.fouling.given() {
        Some(Fouling::Clean) => Some(0.0),
        Some(Fouling::Slime) => Some(layer(Dirt::SeaCool)),
        Some(Fouling::Silt) => Some(layer(Dirt::River)),
        Some(Fouling::Scale) => Some(layer(Dirt::SeaWarm)),
        Some(Fouling::Growth) => {
            desk.miss(
                format!(
                    "{} is grown over, and what growth holds back knows no bound.",
                    thing.key
                ),
                format!("{place}.fouling"),
                "Scrape it, and write what is left: `fouling = \"slime\"`.",
            );
            None
        }
        None => {
            let at = format!("{place}.fouling");
            let of = fouling(Dirt::SeaCool);
            desk.middle(
                Assume::Fouling,
                &format!("Dirt outside {}", thing.key),
                &of,
                &at,
                "Look at it when she is ashore: `fouling = \"clean\"`, \"slime\", \"silt\", \"scale\".",
            )
            .map(|through| 1.0 / through)
        }
    }
}

/// What paint resists [m² K/W].
fn paint(
    desk: &mut Desk,
    thing: &Thing,
    told: &Told<Reading<quantity::Length>>,
    coat: Option<&str>,
    place: &str,
) -> Option<f64> {
    let bare = coat.is_some_and(|text| {
        let text = text.to_lowercase();
        ["bare", "none", "no paint", "unpainted"]
            .iter()
            .any(|word| text.trim() == *word)
    });
    if bare {
        return Some(0.0);
    }
    let of = match coat {
        Some(text) if text.to_lowercase().contains("bitumen") => Wall::Bitumen,
        _ => Wall::Paint,
    };
    let thick = match desk.value(told, place) {
        Some(thick) => thick,
        None => desk.middle(
            Assume::Paint,
            &format!("Paint on {}", thing.key),
            &measure(Measure::PaintThickness),
            &place.into(),
            "Measure the paint with a coating gauge, or write 0 where it is bare.",
        )?,
    };
    Some(thick / conducts(of))
}

/// The water outside, without its temperature and speed, which are the state's; and the share of the boat's
/// speed that is felt.
fn outside(
    desk: &mut Desk,
    thing: &Thing,
    place: &str,
    medium: &Arc<Medium>,
    length: f64,
    still: f64,
    geometry: Geometry,
) -> Option<(Outside, f64)> {
    let own = &thing.detail.outside;
    let aft = match desk.value(&own.aft_of_bow, &format!("{place}.aft_of_bow")) {
        Some(aft) => aft,
        None => {
            let may = desk.typical(
                Assume::CoolerPlace,
                &format!("How far {} lies aft of the bow", thing.key),
                Words::of(|system| quantity::show(quantity::Length::of_si(AFT), None, system)),
                PRACTICE.into(),
                &format!("{place}.aft_of_bow"),
                "Pace it off along the hull, or read it on a drawing.",
            );
            if !may {
                return None;
            }
            AFT
        }
    };
    let sees = match desk.value(&own.sees_speed, &format!("{place}.sees_speed")) {
        Some(share) => share,
        None if own.lies.given() == Some(&Lies::Recess) => {
            let may = desk.typical(
                Assume::CoolerPlace,
                &format!("The speed of the water along {}", thing.key),
                Words::from("half of the boat's speed in a recess (0.3 to 0.7)"),
                PRACTICE.into(),
                &format!("{place}.sees_speed"),
                "Judge how far hull and fins shield it, and write a range: `sees_speed = \"40 to 70 %\"`.",
            );
            if !may {
                return None;
            }
            RECESS
        }
        None => 1.0,
    };
    Some((
        Outside {
            medium: Arc::clone(medium),
            temperature: 15.0,
            speed: 0.0,
            length,
            aft,
            still,
            geometry,
        },
        sees,
    ))
}

fn need(
    desk: &mut Desk,
    told: &Told<Reading<quantity::Length>>,
    what: &str,
    place: String,
    how: &str,
) -> Option<f64> {
    let value = desk.value(told, &place);
    if value.is_none() {
        desk.miss(format!("{what} is not measured."), place, how);
    }
    value
}

/// Keel pipes.
pub(super) fn keel(desk: &mut Desk, thing: &Thing, place: &str, sea: &Arc<Medium>) -> Option<Sink> {
    let at = |key: &str| format!("{place}.pipes.{key}");
    let Some(pipes) = &thing.detail.pipes else {
        desk.miss(
            format!("Nothing is written of the pipes of {}.", thing.key),
            format!("{place}.pipes"),
            "Write them: `pipes = { count = 2, joined = \"series\", od = 60.3, wall = 3.6, length = 2200, metal = \"steel\" }`.",
        );
        return None;
    };
    let od = need(
        desk,
        &pipes.od,
        &format!("How thick the pipes of {} are", thing.key),
        at("od"),
        "Measure round a pipe with string or tape.",
    );
    let length = need(
        desk,
        &pipes.length,
        &format!("How long the pipes of {} are", thing.key),
        at("length"),
        "Measure one pipe from end to end.",
    );
    let thick = match desk.value(&pipes.wall, &at("wall")) {
        Some(wall) => Some(wall),
        None => desk
            .typical(
                Assume::KeelWall,
                &format!("The wall of the pipes of {}", thing.key),
                Words::of(|system| {
                    quantity::show(quantity::Length::of_si(KEEL_WALL), None, system)
                }),
                "ISO 4200, preferred thickness for 60.3 mm (from memory, to be checked)".into(),
                &at("wall"),
                "Measure the wall with an ultrasonic gauge, or at a cut end.",
            )
            .then_some(KEEL_WALL),
    };
    let count = pipes.count.given().copied();
    if count.is_none() {
        desk.miss(
            format!("How many pipes {} has is not written.", thing.key),
            at("count"),
            "Count the pipes.",
        );
    }
    let series = match pipes.in_series.given() {
        Some(series) => Some(*series),
        None if count == Some(1) => Some(true),
        None => {
            desk.miss(
                format!(
                    "Whether the pipes of {} are joined in series or side by side is not written.",
                    thing.key
                ),
                at("joined"),
                "Follow the water: `joined = \"series\"` or `\"parallel\"`.",
            );
            None
        }
    };
    let metal = wall(pipes.metal.given());
    if metal.is_none() {
        desk.miss(
            format!(
                "Of what the pipes of {} are made is not written.",
                thing.key
            ),
            at("metal"),
            "Scrape one and hold a magnet to it.",
        );
    }
    let coat = pipes.coat.given().map(String::as_str);
    let paint = paint(desk, thing, &pipes.paint, coat, &at("paint"));
    let dirt_out = dirt(desk, thing, place);
    let (od, length, thick, count) = (od?, length?, thick?, f64::from(count?));
    let (series, metal, paint, dirt_out) = (series?, metal?, paint?, dirt_out?);
    let bore = od - 2.0 * thick;
    if bore <= 0.0 {
        desk.miss(
            format!("The wall of the pipes of {} leaves no bore.", thing.key),
            at("wall"),
            "Measure wall and outside diameter again.",
        );
        return None;
    }
    let (side, way) = if series {
        (1.0, count * length)
    } else {
        (count, length)
    };
    let form = pipes.form.given().copied().unwrap_or(PipeForm::Round);
    // Flow area, wetted girth, girth outside, and girth inside that gives heat, of one channel.
    let (flow, wetted, out, inside) = match form {
        PipeForm::Round => (PI / 4.0 * bore * bore, PI * bore, PI * od, PI * bore),
        PipeForm::HalfRound => (
            PI / 8.0 * bore * bore,
            (0.5 * PI + 1.0) * bore,
            0.5 * PI * od,
            0.5 * PI * bore,
        ),
        PipeForm::Box => (bore * bore, 4.0 * bore, 3.0 * od, 3.0 * bore),
    };
    if form != PipeForm::Round {
        desk.note("Of half-round and box pipes only the faces in the water count, not the hull's skin under them.".into());
    }
    let diameter = 4.0 * flow / wetted;
    let geometry = Geometry::Pipe;
    let (sea, sees) = outside(desk, thing, place, sea, length, od, geometry)?;
    let (area_in, area_out) = (count * length * inside, count * length * out);
    let resists = if form == PipeForm::Round {
        (od / bore).ln() / (2.0 * PI * conducts(metal) * count * length)
    } else {
        thick / conducts(metal) / area_out
    };
    desk.note(
        "Ends of keel pipes are reckoned with 1.5 velocity heads, turns from pipe to pipe as return bends."
            .into(),
    );
    // In series the water turns by two elbows from pipe to pipe.
    let turns = if series { (count - 1.0).max(0.0) } else { 0.0 };
    let bend = quantity::Length::from_si(diameter.clamp(0.006, 0.9))
        .and_then(|bore| {
            reference::fitting::fitting(reference::fitting::FittingKind::ReturnBend, bore).ok()
        })
        .unwrap_or(1.0);
    Some(Sink {
        cooler: Cooler {
            gives: Gives::Sea(Surface {
                channel: flow,
                diameter,
                count: side,
                length: way,
                roughness: (rough(reference::friction::Surface::NewSteel) / diameter).min(0.05),
                // An inlet and an outlet, and the turns between.
                k: 1.5 + turns * bend,
                connection: None,
                film: Film::Round,
                inside: area_in,
                outside: area_out,
                wall: resists + paint / area_out,
                dirt_in: layer(Dirt::Closed),
                dirt_out,
                sea,
            }),
            rated: None,
        },
        area: Some(area_out),
        bore: Some(diameter),
        volume: Some(count * length * flow),
        sees,
    })
}

/// A skin tank.
pub(super) fn skin(desk: &mut Desk, thing: &Thing, place: &str, sea: &Arc<Medium>) -> Option<Sink> {
    let at = |key: &str| format!("{place}.channel.{key}");
    let Some(channel) = &thing.detail.channel else {
        desk.miss(
            format!("Nothing is written of the way of the water in {}.", thing.key),
            format!("{place}.channel"),
            "Write it: `channel = { width = 180, depth = 40, length = \"5.6 m\", wall = 6, metal = \"steel\" }`.",
        );
        return None;
    };
    let own = &thing.key;
    let width = need(
        desk,
        &channel.width,
        &format!("How wide the channel of {own} is"),
        at("width"),
        "Measure along the skin between baffle and side.",
    );
    let depth = need(
        desk,
        &channel.depth,
        &format!("How deep the channel of {own} is"),
        at("depth"),
        "Measure from the skin to the inner plate.",
    );
    let length = need(
        desk,
        &channel.length,
        &format!("How long the channel of {own} is"),
        at("length"),
        "Measure along the way of the water, all lanes together.",
    );
    let thick = need(
        desk,
        &channel.wall,
        &format!("How thick the skin at {own} is"),
        at("wall"),
        "Take the figure of the last hull survey.",
    );
    let metal = wall(channel.metal.given());
    if metal.is_none() {
        desk.miss(
            format!("Of what the skin at {own} is made is not written."),
            at("metal"),
            "Write the hull's metal.",
        );
    }
    let paint = paint(desk, thing, &channel.paint, None, &at("paint"));
    let dirt_out = dirt(desk, thing, place);
    let lies = thing.detail.outside.lies.given().copied();
    if lies.is_none() {
        desk.miss(
            format!("Where {own} lies on the hull is not written."),
            format!("{place}.lies"),
            "Write `lies = \"side\"` or `lies = \"bottom\"`: under a flat bottom warm water does not rise away.",
        );
    }
    let (w, d, length, thick) = (width?, depth?, length?, thick?);
    let (metal, paint, dirt_out, lies) = (metal?, paint?, dirt_out?, lies?);
    desk.note(
        "Ends and baffles of a skin tank are reckoned with 3 velocity heads of its channel.".into(),
    );
    let diameter = 2.0 * w * d / (w + d);
    let face = w * length;
    let (geometry, still) = match lies {
        Lies::Side | Lies::Recess => (Geometry::Upright, w),
        // Area over girth.
        Lies::Bottom => (Geometry::Under, w * length / (2.0 * (w + length))),
    };
    let (sea, sees) = outside(desk, thing, place, sea, length, still, geometry)?;
    Some(Sink {
        cooler: Cooler {
            gives: Gives::Sea(Surface {
                channel: w * d,
                diameter,
                count: 1.0,
                length,
                roughness: (rough(reference::friction::Surface::RustedSteel) / diameter).min(0.05),
                k: 3.0,
                connection: None,
                film: Film::FlatOneWall,
                inside: face,
                outside: face,
                wall: (thick / conducts(metal) + paint) / face,
                dirt_in: layer(Dirt::Closed),
                dirt_out,
                sea,
            }),
            rated: None,
        },
        area: Some(face),
        bore: Some(diameter),
        volume: Some(w * d * length),
        sees,
    })
}

/// An exchanger, with the drop of its coolant side and raw water of which flow and temperature are the
/// state's.
pub(super) fn exchanger(
    desk: &mut Desk,
    thing: &Thing,
    place: &str,
    raw: &Arc<Medium>,
    rated: Option<(f64, f64)>,
    engine_flow: f64,
) -> Option<Sink> {
    let duty = &thing.detail.duty;
    let how = match thing.detail.streams.given() {
        Some(Streams::Counter) => Arrangement::Counter,
        Some(Streams::Parallel) => Arrangement::Parallel,
        Some(Streams::OneShell) => Arrangement::Shells(1),
        Some(Streams::Cross) => Arrangement::CrossUnmixed,
        None => {
            desk.miss(
                format!("How the two waters run in {} is not written.", thing.key),
                format!("{place}.arrangement"),
                "Write `arrangement = \"one shell pass\"` for a bundle of tubes that goes there and back in a shell; \"counter\" where both run once.",
            );
            return None;
        }
    };
    let ua = if let Some(ua) = desk.value(&duty.ua, &format!("{place}.ua")) {
        Ua::Told(ua)
    } else if let Some(tubes) = &thing.detail.tubes {
        let at = |key: &str| format!("{place}.tubes.{key}");
        let od = need(
            desk,
            &tubes.od,
            &format!("The tubes of {}", thing.key),
            at("od"),
            "Measure a tube with a caliper.",
        );
        let wall_thick = need(
            desk,
            &tubes.wall,
            &format!("The wall of the tubes of {}", thing.key),
            at("wall"),
            "Measure it at the end of a tube.",
        );
        let length = need(
            desk,
            &tubes.length,
            &format!("The length of the tubes of {}", thing.key),
            at("length"),
            "Measure between the tube plates.",
        );
        let count = tubes.count.given().copied();
        if count.is_none() {
            desk.miss(
                format!("How many tubes {} has is not written.", thing.key),
                at("count"),
                "Count them with the end cap off.",
            );
        }
        let metal = wall(tubes.metal.given());
        if metal.is_none() {
            desk.miss(
                format!(
                    "Of what the tubes of {} are made is not written.",
                    thing.key
                ),
                at("metal"),
                "Scratch one at its end: cupro-nickel is pale, brass is yellow.",
            );
        }
        let passes = tubes.passes.given().copied();
        if passes.is_none() {
            desk.miss(
                format!(
                    "How often the raw water goes through the tubes of {} is not written.",
                    thing.key
                ),
                at("passes"),
                "Look at the end caps: a rib in one of them makes two passes.",
            );
        }
        let dirt_in = dirt(desk, thing, place);
        let may = desk.typical(
            Assume::CoolerDrop,
            &format!("The film round the tubes of {}", thing.key),
            Words::from(
                format!("{SHELL:.0} W/(m² K) at the engine's flow, by the flow to 0.6").as_str(),
            ),
            PRACTICE.into(),
            &format!("{place}.ua"),
            "Find its UA in its sheet, or the heat that it passes at two temperatures.",
        );
        let (od, thick, length, count) = (od?, wall_thick?, length?, f64::from(count?));
        let (metal, passes) = (metal?, passes?);
        if od - 2.0 * thick <= 0.0 {
            desk.miss(
                format!("The wall of the tubes of {} leaves no bore.", thing.key),
                at("wall"),
                "Measure wall and outside diameter of a tube again.",
            );
            return None;
        }
        if !may {
            return None;
        }
        Ua::Tubes(Tubes {
            count,
            passes: f64::from(passes),
            bore: od - 2.0 * thick,
            over: od,
            length,
            conductivity: conducts(metal),
            shell: SHELL,
            shell_flow: rated.map_or(engine_flow, |(_, flow)| flow) * 1000.0,
            shell_power: SHELL_POWER,
            dirt_in: dirt_in?,
            dirt_out: layer(Dirt::Closed),
        })
    } else {
        desk.miss(
            format!("Nothing is written of the tubes of {}, nor its UA.", thing.key),
            format!("{place}.tubes"),
            "Count and measure the tubes with the end cap off: `tubes = { count = 40, passes = 2, od = 8, wall = 0.7, length = 300, metal = \"cupro-nickel\" }`.",
        );
        return None;
    };
    Some(Sink {
        cooler: Cooler {
            gives: Gives::Raw(
                how,
                ua,
                Raw {
                    medium: Arc::clone(raw),
                    flow: 1.0,
                    temperature: 15.0,
                },
            ),
            rated,
        },
        area: None,
        bore: None,
        volume: None,
        sees: 1.0,
    })
}
