//! What the bay hands on: lengths to the flow, low spots to the filling.

use reckon::{Answer, Grade, Set};

use crate::route::{judged_as, verdict};

fn judged(text: &str, arrangement: Option<&str>) -> Answer {
    judged_as(text, Set::Prompt, arrangement)
}

/// A hose of 500 mm that hangs as a bight between two mouths that point down.
fn bight(coolant: &str) -> Answer {
    judged(
        &format!(
            r#"version = 1
lengths = "mm"
[engine]
spigots.out = {{ od = 38.1, bead = 40.7, behind_bead = 32, bead_width = 4, form = "beaded", h = 0 }}
[things.cooler]
kind = "oil cooler"
spigots.a = {{ od = 38.1, bead = 40.7, behind_bead = 32, bead_width = 4, form = "beaded", h = 0 }}
[runs]
hot = {{ from = "engine.out", to = "cooler.a", length = 500, way = "hose 38 epdm" }}
[stock]
hose = ["2 m x 38 epdm, id 38.0 od 47.4"]
[coolant]
wanted = {{ kind = "ethylene, organic acid", percent = 50 }}
volume = "12 L ± 0.2 L"
{coolant}
[bay]
x = "forward"
[bay.hoses]
"38 epdm" = {{ stiffness = "2 N m2", rmin = 50, rmin_to = "centre" }}
[bay.mouths]
"engine.out" = {{ at = [0, 0, 0], points = "down" }}
"cooler.a" = {{ at = [250, 0, 0], points = "down" }}
"#
        ),
        None,
    )
}

/// A bore of 38 mm over 500 mm holds π/4 · 0.038² · 0.5 m³ = 0.567 L: it stands upright at both brims.
#[test]
fn what_a_bight_holds_stays_inside() {
    let answer = bight("");
    let route = answer.route.as_deref().expect("the file tells of a bay");
    let run = route.stays.first().expect("it is laid");
    assert!((0.564e-3..0.568e-3).contains(&run.volume), "{}", run.volume);
    let waits = verdict(&answer, "fill.coolant.recipe");
    assert_eq!(waits.grade, Grade::Unmeasured);
    let because = waits.because.in_units(quantity::System::Metric).to_owned();
    assert!(
        because.contains("the low spots of hot hold 0.5") && because.contains("L at least"),
        "{because}"
    );
}

#[test]
fn what_stays_inside_is_held_against_the_low_spots() {
    let enough = bight("drained = \"11 L ± 0.1 L\"\n[coolant.inside]\nkind = \"water\"");
    let held = verdict(&enough, "fill.coolant.low-spots");
    assert_eq!(held.grade, Grade::Sound, "{held:?}");
    let little = bight("[coolant.inside]\nkind = \"water\"\nvolume = \"0.2 L ± 0.1 L\"");
    let short = verdict(&little, "fill.coolant.low-spots");
    assert_eq!(short.grade, Grade::Marginal, "{short:?}");
    let because = short.because.in_units(quantity::System::Metric).to_owned();
    assert!(because.contains("only 0.2 L stayed inside"), "{because}");
}

/// What a run drops by its hoses, summed over its pieces, in the first state that came to rest [Pa].
fn drop_of(text: &str, arrangement: &str, run: &str) -> f64 {
    let answer = judged(text, Some(arrangement));
    let flow = answer.flow.as_deref().expect("she has states");
    let state = flow.row.states.iter().find_map(|state| state.came.steady());
    let items = &state.expect("a state comes to rest").items;
    let own = items.iter().filter(|item| item.run == run);
    own.map(|item| item.drop / item.flow.powi(2)).sum()
}

#[test]
fn the_water_goes_the_length_that_is_to_be_cut() {
    let text = include_str!("../../../../boats/dunlin/boat.toml");
    let cut = "cal-back = { cut = [2985], supports";
    assert!(text.contains(cut));
    let longer = text.replace(cut, "cal-back = { cut = [5985], supports");
    let (short, long) = (
        drop_of(text, "after", "cal-back"),
        drop_of(&longer, "after", "cal-back"),
    );
    assert!(long > 1.3 * short, "{short} {long}");
    // As she was found the old hose is in her.
    let (found, same) = (
        drop_of(text, "before", "cal-back"),
        drop_of(&longer, "before", "cal-back"),
    );
    assert!((found - same).abs() < 1e-9 * found, "{found} {same}");
}
