//! Where the clips sit, the order of fitting, and the sweep of all of them.

use std::cell::RefCell;
use std::collections::BTreeMap;

use bay::Vec3;
use bay::access::Fineness;
use bay::sequence::{Fitting, Hose, Order, Shut};
use bay::solid::{Bounds, Shape, Space};
use boat::Key;

use super::access::{Seat, Sweep};
use super::clip_verdict::{CAUTION, measure};
use super::input::{ClipFact, RouteInput};
use super::lay::Laid;
use super::room;
use super::types::{LayOrder, Route};
use crate::say;
use crate::stages::types::Subject;
use crate::verdict::{Grade, Stage, Verdict};

/// Where a clip sits: behind the mouth that its hose end goes over.
fn seat(clip: &ClipFact, laid: &[Laid]) -> Option<Seat> {
    let found = laid.iter().find(|found| found.run.key == clip.run)?;
    let pieces = found.run.pieces.as_deref().ok()?;
    let at = pieces.iter().position(|piece| piece.key == clip.piece)?;
    let part = found.hung.lain.parts.get(at)?;
    let (mouth, next) = if clip.upstream {
        (*part.line.first()?, *part.line.get(1)?)
    } else {
        let last = part.line.len().checked_sub(1)?;
        (*part.line.get(last)?, *part.line.get(last.checked_sub(1)?)?)
    };
    // The end on a thing points as its mouth does; the one on a piece of the run as the hose leaves it.
    let [from, to] = &found.mouths;
    let along = match clip.upstream {
        true if at == 0 => from.end.along,
        false if at + 1 == pieces.len() => to.end.along,
        _ => (next - mouth).try_normalize()?,
    };
    let half = from.half.max(to.half);
    Some(Seat {
        at: mouth - along * clip.back,
        axis: along,
        half,
    })
}

/// Looks for an order in which each clip is reached, and sweeps the clips.
pub(super) fn clips(
    input: &RouteInput,
    space: &Space,
    laid: &[Laid],
    tubes: &[(Key, Shape)],
    route: &mut Route,
) {
    let seats: Vec<Option<Seat>> = input.clips.iter().map(|clip| seat(clip, laid)).collect();
    let places: Vec<Vec3> = seats.iter().flatten().map(|seat| seat.at).collect();
    let mut sweep = Sweep {
        input,
        space,
        hoses: tubes,
        ahead: Vec3::from_array(input.ahead),
        order: None,
        seats: (!places.is_empty()).then(|| Bounds::of(places)),
        floods: RefCell::new(BTreeMap::new()),
    };
    let bare = space.bodies().is_empty();
    let mut about_order = None;
    if input.settle && !bare {
        let asked = Asked::of(input, &sweep, &seats);
        if let Some(found) = asked.order(space) {
            sweep.order = match &found {
                Found::Works(order) => Some(order.clone()),
                Found::Stuck(..) => None,
            };
            if tubes.len() > 1 {
                route.order = Some(asked.laid(&found));
                about_order = Some(asked.verdict(&found, route));
            }
        }
    }
    let sat: Vec<(&ClipFact, Option<Seat>)> = input.clips.iter().zip(seats.clone()).collect();
    // The clips of one end stand side by side.
    for end in sat.chunk_by(|(one, _), (next, _)| one.joint == next.joint) {
        let typed = |clip: &ClipFact| room::by_room(clip, &input.tools).filter(|_| input.settle);
        let seated: Vec<(&ClipFact, Seat)> = end
            .iter()
            .filter_map(|(clip, seat)| Some((*clip, (*seat)?)))
            .collect();
        if bare || seated.is_empty() {
            // What is typed, or missing, is so of all clips there alike.
            let verdict = end.first().filter(|_| input.settle).map(|(clip, seat)| {
                let clip = &ClipFact {
                    of: 1,
                    ..(*clip).clone()
                };
                typed(clip).unwrap_or_else(|| {
                    let why = match seat {
                        Some(_) => "nothing that stands about it is in the file",
                        None => "its run is not laid",
                    };
                    room::unknown(clip, why)
                })
            });
            route.verdicts.extend(verdict.map(Verdict::spoken));
            continue;
        }
        for ((clip, _), (mut found, swept)) in seated.iter().zip(sweep.end(&seated)) {
            let verdict = match (swept, typed(clip)) {
                (Some(swept), Some(typed)) => Some(room::worse(typed, swept)),
                (swept, typed) => swept.or(typed),
            };
            // Where the tape rules every tool out there is none to take.
            let taken = found.tool.clone();
            if taken.is_some_and(|tool| !room::allows(clip, &tool, &input.tools)) {
                found.without_tool();
            }
            if let Some(verdict) = &verdict {
                found.grade = verdict.grade;
                found.text = verdict.because.clone();
            }
            route.clips.push(found);
            route.verdicts.extend(verdict.map(Verdict::spoken));
        }
    }
    let swept = input.settle && !bare && seats.iter().any(Option::is_some);
    let way_in = swept.then(|| sweep.way_in()).flatten();
    let of_all = way_in.into_iter().chain(about_order);
    route.verdicts.extend(of_all.map(Verdict::spoken));
}

/// What came of the search for an order.
enum Found {
    /// Hoses by their numbers.
    Works(Vec<usize>),
    /// A set that holds itself shut, and which clip of it by which hoses.
    Stuck(Vec<usize>, Vec<Shut>),
}

/// What is put in order.
struct Asked<'a> {
    input: &'a RouteInput,
    hoses: Vec<Hose>,
    /// The clips of each hose, as they stand there.
    clips: Vec<Vec<&'a ClipFact>>,
    /// Clips that nothing reaches even with no other hose in: they are told of by themselves and say nothing of the
    /// order.
    alone: Vec<String>,
}

impl<'a> Asked<'a> {
    fn of(input: &'a RouteInput, sweep: &Sweep<'_>, seats: &[Option<Seat>]) -> Self {
        let mut asked = Self {
            input,
            hoses: Vec::new(),
            clips: Vec::new(),
            alone: Vec::new(),
        };
        for (run, shape) in sweep.hoses {
            let (mut own, mut put) = (Vec::new(), Vec::new());
            for (clip, seat) in input.clips.iter().zip(seats) {
                let Some(seat) = seat.filter(|_| clip.run == *run) else {
                    continue;
                };
                match sweep.reachable_alone(clip, seat) {
                    Some(framed) => {
                        own.push(clip);
                        put.push(framed);
                    }
                    None => asked.alone.push(clip.name()),
                }
            }
            asked.hoses.push(Hose {
                name: run.clone(),
                shape: shape.clone(),
                clips: put,
            });
            asked.clips.push(own);
        }
        asked
    }

    fn order(&self, space: &Space) -> Option<Found> {
        let fitting = Fitting {
            space,
            hoses: &self.hoses,
            tools: &self.input.tools,
            fineness: Fineness::default(),
        };
        Some(match fitting.order().ok()? {
            Order::Found(order) => Found::Works(order),
            Order::Stuck { core, .. } => {
                let shut = fitting.shut(&core);
                Found::Stuck(core, shut)
            }
        })
    }

    fn names(&self, numbers: &[usize]) -> Vec<Key> {
        let hose = |number: &usize| self.hoses.get(*number).map(|hose| hose.name.clone());
        numbers.iter().filter_map(hose).collect()
    }

    fn laid(&self, found: &Found) -> LayOrder {
        match found {
            Found::Works(order) => LayOrder::Works(self.names(order)),
            Found::Stuck(core, _) => LayOrder::Blocked(self.names(core)),
        }
    }

    /// What was left out of the order, and why; begins with a space.
    fn left_out(&self, route: &Route) -> String {
        let mut words = String::new();
        if !self.alone.is_empty() {
            let verb = if self.alone.len() == 1 { "is" } else { "are" };
            words = format!(
                " {} {verb} left out of it, as no tool reaches them even with no other hose in.",
                say::capital(&say::list(&self.alone, "and"))
            );
            if self.alone.len() == 1 {
                words = words.replace(" them ", " it ");
            }
        }
        if !route.missing.is_empty() {
            let runs: Vec<String> = route.missing.iter().map(|run| run.run.clone()).collect();
            let verb = if runs.len() == 1 { "is" } else { "are" };
            words += &format!(
                " {} {verb} left out of it, as not laid yet.",
                say::capital(&say::list(&runs, "and"))
            );
        }
        words
    }

    /// Which clip is shut by what.
    fn shut_words(&self, shut: &Shut) -> Option<String> {
        let clip = self.clips.get(shut.hose)?.get(shut.clip)?;
        let by = self.names(&shut.by);
        Some(if by.is_empty() {
            format!("{} is shut with the others in", clip.name())
        } else {
            format!("{} is shut once {} in", clip.name(), are(&by))
        })
    }

    fn verdict(&self, found: &Found, route: &Route) -> Verdict {
        let subject = Subject {
            key: "bay".into(),
            title: "order of fitting".into(),
            place: "bay.lies".into(),
        };
        let left_out = self.left_out(route);
        let (grade, because) = match found {
            Found::Works(order) => (
                match route.missing.first() {
                    Some(_) => Grade::Unmeasured,
                    None => Grade::Sound,
                },
                format!(
                    "Fitted in the order {}, each hose has its clips in reach as it goes in.{left_out}",
                    self.names(order).join(", ")
                ),
            ),
            Found::Stuck(core, shut) => {
                let shut: Vec<String> = shut
                    .iter()
                    .filter_map(|shut| self.shut_words(shut))
                    .collect();
                (
                    Grade::Unsound,
                    format!(
                        "There is no order in which every clip of {} is reached as its hose goes in: {}.{left_out}",
                        say::list(&self.names(core), "and"),
                        say::list(&shut, "and")
                    ),
                )
            }
        };
        let mut verdict = subject.verdict(Stage::Route, "order", grade, because.as_str().into());
        match (found, route.missing.first()) {
            (Found::Stuck(..), _) => {
                verdict.remedy =
                    "Turn a clip, take another kind, or lead one of them another way.".into();
                verdict.caution = Some(CAUTION.into());
            }
            (Found::Works(_), Some(missing)) => verdict.settle_by(&missing.settles),
            (Found::Works(_), None) => {}
        }
        let told: Vec<usize> = match found {
            Found::Works(order) => order.clone(),
            Found::Stuck(core, _) => core.clone(),
        };
        for number in &told {
            for clip in self.clips.get(*number).into_iter().flatten() {
                let name = format!("diameter under {}", clip.name());
                verdict
                    .working
                    .inputs
                    .extend(measure("D", &name, clip.od, Some(&clip.place)));
            }
        }
        verdict.step(
            "from the finished state each hose comes out whose clips are all reached among those still in; the order of fitting is that turned round",
            format!("{} hoses, {} clips", self.hoses.len(), self.clips.iter().map(Vec::len).sum::<usize>())
                .as_str()
                .into(),
            match found {
                Found::Works(_) => "all come out".into(),
                Found::Stuck(core, _) => format!(
                    "{} hold each other",
                    say::list(&self.names(core), "and")
                )
                .as_str()
                .into(),
            },
        );
        verdict.working.limit = "each hose comes out".into();
        verdict.source("taking apart what can be reached, one after another (Wilson & Latombe 1994, from memory)");
        verdict.source(bay::access::SOURCE);
        verdict
    }
}

fn are(names: &[String]) -> String {
    let verb = if names.len() == 1 { "is" } else { "are" };
    format!("{} {verb}", say::list(names, "and"))
}

#[cfg(test)]
mod tests {
    use bay::access::{Approach, Part, Tool, Works};
    use bay::solid::Body;

    use super::super::types::LaidClip;
    use super::*;

    fn at(x: f64, y: f64, z: f64) -> Vec3 {
        Vec3::new(x, y, z)
    }

    /// A driver of 231 mm.
    fn driver() -> Tool {
        Tool {
            name: "driver".into(),
            works: Works::Screw,
            approach: Approach::Screw {
                parts: vec![
                    Part::on_line(0.012, 0.132, 0.004),
                    Part::on_line(0.148, 0.231, 0.016),
                ],
                tilt: 0.0,
            },
            rise: 0.006,
            source: "of the test".into(),
        }
    }

    fn clip(joint: &str) -> ClipFact {
        ClipFact {
            joint: joint.into(),
            nth: 1,
            of: 1,
            mark: String::new(),
            run: joint.split('.').next().unwrap_or_default().into(),
            piece: String::new(),
            upstream: true,
            title: joint.into(),
            kind: Some(boat::ClipWord::Worm),
            od: 0.040,
            back: 0.0,
            room: None,
            across: None,
            place: String::new(),
        }
    }

    fn input(clips: Vec<ClipFact>) -> RouteInput {
        RouteInput {
            arrangement: None,
            axes: [String::new(), String::new()],
            ahead: [1.0, 0.0, 0.0],
            hatch: None,
            moves: Ok(0.0),
            around_key: 0,
            bodies: Vec::new(),
            shapeless: Vec::new(),
            scan: None,
            scan_missing: None,
            mouths: Vec::new(),
            runs: Vec::new(),
            file_order: Vec::new(),
            clips,
            tools: vec![driver()],
            tilts: Vec::new(),
            settle: true,
        }
    }

    /// A pocket open to +x alone, as deep as the driver wants it, about the height `z`.
    fn pocket(z: f64) -> Vec<Body> {
        let plate = |name: &str, middle: Vec3, half: Vec3| {
            Body::solid(format!("{name} {z}"), Shape::upright_box(middle, half))
        };
        vec![
            plate("back", at(-0.10, 0.0, z), at(0.01, 0.12, 0.2)),
            plate("left", at(0.3, 0.10, z), at(0.5, 0.01, 0.2)),
            plate("right", at(0.3, -0.10, z), at(0.5, 0.01, 0.2)),
        ]
    }

    /// A hose whose clip sits in the pocket at the height `z` and that hangs across the mouth of the other where
    /// `over` says so.
    fn hose(z: f64, over: bool) -> Shape {
        let mut points = vec![
            at(0.0, 0.0, z + 0.1 * z.signum()),
            at(0.0, 0.0, z - 0.1 * z.signum()),
        ];
        if over {
            points.extend([at(0.0, 0.3, 0.0), at(0.11, 0.3, -z)]);
            points.extend((0..13).map(|n| {
                let side = if n % 2 == 0 { -0.075 } else { 0.075 };
                at(0.11, side, -z - 0.09 + 0.015 * f64::from(n))
            }));
        }
        Shape::Tube {
            points,
            radius: 0.012,
        }
    }

    /// Puts what is asked to a bay of two pockets and two hoses.
    fn asked<T>(
        clips: Vec<ClipFact>,
        over: [bool; 2],
        order: Option<Vec<usize>>,
        ask: impl FnOnce(&Sweep<'_>, &[Option<Seat>]) -> T,
    ) -> T {
        let input = input(clips);
        let space = Space::new([pocket(0.6), pocket(-0.6)].concat());
        let [hot, cold] = over;
        let hoses = [
            ("hot".to_owned(), hose(0.6, hot)),
            ("cold".to_owned(), hose(-0.6, cold)),
        ];
        let sweep = Sweep {
            input: &input,
            space: &space,
            hoses: &hoses,
            ahead: Vec3::X,
            order,
            seats: None,
            floods: RefCell::new(BTreeMap::new()),
        };
        let seats = [0.6, -0.6].map(|z| {
            Some(Seat {
                at: at(0.0, 0.0, z),
                axis: Vec3::Z,
                half: 0.0,
            })
        });
        ask(&sweep, &seats)
    }

    fn pair() -> Vec<ClipFact> {
        vec![clip("hot.from"), clip("cold.from")]
    }

    fn found(over: [bool; 2]) -> (LayOrder, Verdict) {
        asked(pair(), over, None, |sweep, seats| {
            let asked = Asked::of(sweep.input, sweep, seats);
            assert!(asked.alone.is_empty(), "{:?}", asked.alone);
            let found = asked.order(sweep.space).expect("two hoses");
            (asked.laid(&found), asked.verdict(&found, &Route::default()))
        })
    }

    fn swept(clips: Vec<ClipFact>, over: [bool; 2], half: f64) -> (LaidClip, Verdict) {
        asked(clips, over, Some(vec![1, 0]), |sweep, seats| {
            let (fact, seat) = (&sweep.input.clips[1], seats[1].expect("a seat"));
            let mut all = sweep.end(&[(fact, Seat { half, ..seat })]);
            let (laid, verdict) = all.pop().expect("one clip");
            (laid, verdict.expect("swept"))
        })
    }

    #[test]
    fn the_moment_that_fails_is_named() {
        // The hot one hangs over the cold one's clip, which goes in first.
        let (laid, verdict) = swept(pair(), [true, false], 0.0);
        let because = &verdict.because.metric;
        assert_eq!(verdict.grade, Grade::Marginal, "{because}");
        for says in [
            "When all is in, or to take this hose alone out, no tool reaches it: hot",
            "when it is fitted, before the others, it is reached",
        ] {
            assert!(because.contains(says), "{because}");
        }
        assert!(verdict.caution.is_some());
        let grades: Vec<Grade> = laid.moments.iter().map(|moment| moment.grade).collect();
        let [first, all_in, out] = grades[..] else {
            panic!("{grades:?}");
        };
        assert!(first < Grade::Unsound && all_in == Grade::Unsound && out == Grade::Unsound);
        // Where nothing hangs over it one place serves all three.
        let (laid, verdict) = swept(pair(), [false, false], 0.0);
        let because = &verdict.because.metric;
        assert!(
            because.starts_with("When all is in, it is reached"),
            "{because}"
        );
        assert!(
            laid.moments
                .iter()
                .all(|moment| moment.grade == verdict.grade)
        );
        assert_eq!(laid.moments.len(), 3);
    }

    #[test]
    fn what_a_place_may_be_off_narrows_its_slack() {
        let slack = |half: f64| {
            let (laid, verdict) = swept(pair(), [false, false], half);
            assert!(laid.clock.is_some());
            let words = verdict.because.metric;
            let (before, _) = words.split_once("° either way").expect("a slack");
            let number = before.rsplit(' ').next().expect("a number");
            number.parse::<f64>().expect("a number")
        };
        // 10 mm at the hand's 232 mm are 2.5°.
        let (sure, off) = (slack(0.0), slack(0.010));
        assert!((sure - off - 2.5).abs() < 0.6, "{sure} {off}");
    }

    #[test]
    fn a_clip_of_no_kind_is_said_to_be_taken_as_worm_drive() {
        let mut unknown = pair();
        unknown[1].kind = None;
        unknown[1].room = Some(0.3);
        let typed = room::by_room(&unknown[1], &[driver()]).expect("a room");
        let (_, swept) = swept(unknown, [false, false], 0.0);
        for verdict in [typed, swept] {
            let because = &verdict.because.metric;
            assert!(because.contains("taken as worm-drive"), "{because}");
        }
    }

    fn two(apart: f64, sides: [f64; 2]) -> [(LaidClip, Verdict); 2] {
        several(2, apart, sides).try_into().expect("two")
    }

    /// Some clips of one end, so far apart along a hose through the pocket, beside plates that stand so far off its
    /// axis on the side of −y and of +y.
    fn several(of: u32, apart: f64, sides: [f64; 2]) -> Vec<(LaidClip, Verdict)> {
        let clips: Vec<ClipFact> = (1..=of)
            .map(|nth| ClipFact {
                nth,
                of,
                ..clip("hot.from")
            })
            .collect();
        let input = input(clips.to_vec());
        let plates = [-sides[0], sides[1]].map(|y| {
            let half = at(0.5, 0.005, 0.2);
            Body::solid(
                format!("plate {y}"),
                Shape::upright_box(at(0.3, y, 0.6), half),
            )
        });
        let space = Space::new([pocket(0.6), plates.to_vec()].concat());
        let hoses = [("hot".to_owned(), hose(0.6, false))];
        let sweep = Sweep {
            input: &input,
            space: &space,
            hoses: &hoses,
            ahead: Vec3::X,
            order: None,
            seats: None,
            floods: RefCell::new(BTreeMap::new()),
        };
        let seat = |z: f64| Seat {
            at: at(0.0, 0.0, z),
            axis: Vec3::Z,
            half: 0.0,
        };
        let seated: Vec<(&ClipFact, Seat)> = clips
            .iter()
            .map(|clip| (clip, seat(0.6 + apart * f64::from(clip.nth - 1))))
            .collect();
        let all = sweep.end(&seated).into_iter();
        all.map(|(laid, verdict)| (laid, verdict.expect("swept")))
            .collect()
    }

    /// On which side of the hose a screw stands.
    fn side(laid: &LaidClip) -> f64 {
        laid.screw.map_or(0.0, |screw| screw[1].signum())
    }

    #[test]
    fn screws_of_two_clips_stand_opposite_each_other() {
        // The driver comes along x: with its screw on either side of the hose.
        let [(one, first), (next, second)] = two(0.017, [0.09, 0.09]);
        assert_eq!(side(&one) * side(&next), -1.0);
        for (laid, verdict) in [(&one, first), (&next, second)] {
            let because = &verdict.because.metric;
            assert!(
                because.contains("either way, opposite that of"),
                "{because}"
            );
            assert!(laid.tool.is_some() && verdict.grade < Grade::Unsound);
            let sources = &verdict.working.sources;
            assert!(
                sources.iter().any(|source| source.contains("practice")),
                "{sources:?}"
            );
        }
    }

    #[test]
    fn each_of_three_stands_opposite_the_next_and_clear_of_all() {
        let all = several(3, 0.017, [0.09, 0.09]);
        let sides: Vec<f64> = all.iter().map(|(laid, _)| side(laid)).collect();
        assert_eq!((sides[0] * sides[1], sides[1] * sides[2]), (-1.0, -1.0));
        // So close that the third's housing would lie in the first's, no third one is reached.
        let all = several(3, 0.009, [0.03, 0.09]);
        let reached = all.iter().filter(|(laid, _)| laid.screw.is_some());
        assert_eq!(reached.count(), 1);
    }

    #[test]
    fn where_they_cannot_each_is_looked_at_beside_the_others_screw() {
        // On the side of −y the driver goes in a little aslant only: almost opposite is good enough.
        let [(one, first), (next, second)] = two(0.017, [0.04, 0.09]);
        assert_eq!(side(&one) * side(&next), -1.0);
        for verdict in [&first, &second] {
            let because = &verdict.because.metric;
            assert!(because.contains("opposite that of"), "{because}");
        }
        // Closer still there is no room on that side.
        let [(one, first), (next, second)] = two(0.030, [0.03, 0.09]);
        assert_eq!((side(&one), side(&next)), (1.0, 1.0));
        for (laid, verdict) in [(&one, first), (&next, second)] {
            let because = &verdict.because.metric;
            assert_eq!(verdict.grade, Grade::Marginal, "{because}");
            assert!(because.contains("round from that of"), "{because}");
            assert!(verdict.remedy.metric.contains("one clip"));
            let all_in = &laid.moments[1];
            assert_eq!(all_in.grade, Grade::Marginal, "{}", all_in.text.metric);
        }
        // Closer together the second screw finds the first one's housing where it would stand.
        let [(one, first), (next, second)] = two(0.017, [0.03, 0.09]);
        assert!(one.screw.is_some() && next.screw.is_none(), "{next:?}");
        assert!(first.grade < Grade::Unsound && second.grade == Grade::Unsound);
        let because = &second.because.metric;
        assert!(
            because.contains("the screw of the clip beside it"),
            "{because}"
        );
        assert!(second.remedy.metric.contains("one clip"));
        assert!(second.caution.is_some());
    }

    #[test]
    fn what_lies_deeper_goes_in_first() {
        // The hot one hangs over the cold one's clip.
        let (order, verdict) = found([true, false]);
        assert_eq!(order, LayOrder::Works(vec!["cold".into(), "hot".into()]));
        assert_eq!(verdict.grade, Grade::Sound);
        let (order, _) = found([false, true]);
        assert_eq!(order, LayOrder::Works(vec!["hot".into(), "cold".into()]));
    }

    #[test]
    fn hoses_that_shut_each_other_are_named_with_their_clips() {
        let (order, verdict) = found([true, true]);
        assert_eq!(order, LayOrder::Blocked(vec!["hot".into(), "cold".into()]));
        let because = &verdict.because.metric;
        assert_eq!(verdict.grade, Grade::Unsound);
        for says in [
            "hot.from is shut once cold is in",
            "cold.from is shut once hot is in",
        ] {
            assert!(because.contains(says), "{because}");
        }
        assert!(verdict.caution.is_some() && !verdict.remedy.metric.is_empty());
        assert_eq!(verdict.working.inputs.len(), 2);
        assert!(!verdict.working.steps.is_empty() && !verdict.working.limit.metric.is_empty());
    }
}
