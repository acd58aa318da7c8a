//! What only the whole file can tell: names that lead nowhere, doubles, circles.

use crate::arrange::settle_ends;
use crate::model::{Arrangement, Boat, Governs, Key, KeyPath, PieceKind, Run, RunEnd, Thing};
use crate::places::{joined, joint_path, run_path, spigot_path, thing_path};
use crate::remark::Code;
use crate::walk::Walk;
use crate::words::{Word, listed, nearest};

/// Adds remarks, and settles which ends are tees and what is `like` what.
pub(crate) fn check(walk: &mut Walk, boat: &mut Boat) {
    double_names(walk, boat);
    double_prices(walk, boat);
    likes(walk, boat);
    settle_ends(boat);
    let names = Names::of(boat);
    for run in &boat.runs {
        ends(walk, boat, run, &run_path(&run.key));
    }
    things(walk, boat, &boat.things, &names);
    arrangements(walk, boat, &names);
    marks(walk, boat);
    joints(walk, boat);
    shared_ends(walk, boat);
    rules(walk, boat);
    beads(walk, boat);
    crate::check_survey::survey(walk, boat);
    crate::check_bay::bay(walk, boat, &names);
    for sitting in &boat.readings {
        if let Some(state) = &sitting.state {
            let states = boat.states.iter().map(|state| state.key.as_str());
            due(
                walk,
                &format!("{}.state", joined("readings", &sitting.when)),
                "state",
                state,
                states.collect(),
            );
        }
    }
    for seen in &boat.seen {
        let first = seen.subject.split('.').next().unwrap_or_default();
        let known = names
            .things
            .iter()
            .chain(&names.runs)
            .map(String::as_str)
            .collect();
        due(
            walk,
            &joined("seen", &seen.subject),
            "thing or run",
            first,
            known,
        );
    }
}

/// Names that stand anywhere in the file, the arrangements' included.
pub(crate) struct Names {
    pub(crate) things: Vec<Key>,
    pub(crate) runs: Vec<Key>,
}

impl Names {
    fn of(boat: &Boat) -> Self {
        let added = |pick: fn(&Arrangement) -> Vec<Key>| {
            boat.arrangements.iter().flat_map(pick).collect::<Vec<_>>()
        };
        let mut things: Vec<Key> = boat.things.iter().map(|thing| thing.key.clone()).collect();
        things.extend(added(|step| {
            step.add_things
                .iter()
                .map(|thing| thing.key.clone())
                .collect()
        }));
        let mut runs: Vec<Key> = boat.runs.iter().map(|run| run.key.clone()).collect();
        runs.extend(added(|step| {
            step.add_runs.iter().map(|run| run.key.clone()).collect()
        }));
        Self { things, runs }
    }
}

/// Remarks on a name that is none of those known.
pub(crate) fn due(walk: &mut Walk, place: &str, what: &str, name: &str, known: Vec<&str>) {
    if known.contains(&name) {
        return;
    }
    let message = match nearest(name, known.iter().copied()) {
        Some(near) => format!("no {what} is called “{name}”; did you mean {near}?"),
        None => format!("no {what} is called “{name}”"),
    };
    let expected = (!known.is_empty()).then(|| listed(known.iter().copied().take(12), "or"));
    let span = walk.places.span(place);
    walk.remark(Code::UnknownReference, span, place, message, expected);
}

fn double_names(walk: &mut Walk, boat: &Boat) {
    let engine_twice = boat
        .things
        .iter()
        .filter(|thing| thing.key == Thing::ENGINE)
        .count()
        > 1;
    if engine_twice {
        walk.remark_at(
            Code::NameTwice,
            "things.engine",
            "the engine stands under [engine] already; another needs another name",
        );
    }
    for run in &boat.runs {
        if boat.thing(&run.key).is_some() {
            let message = format!(
                "“{}” names a thing already; a run needs a name of its own",
                run.key
            );
            let place = run_path(&run.key);
            let span = walk.places.key_span(&place).unwrap_or_default();
            walk.remark(Code::NameTwice, span, &place, message, None);
        }
    }
    for thing in &boat.things {
        for (i, spigot) in thing.spigots.iter().enumerate() {
            if thing.spigots[..i]
                .iter()
                .any(|other| other.name == spigot.name)
            {
                let message = format!(
                    "{} has the spigot “{}” twice: “both” stands for a and b",
                    thing.key, spigot.name
                );
                walk.remark_at(
                    Code::NameTwice,
                    &spigot_path(&thing.key, &spigot.name),
                    message,
                );
            }
        }
    }
}

/// Two prices of one thing: names that differ in their spaces only.
fn double_prices(walk: &mut Walk, boat: &Boat) {
    for (i, price) in boat.prices.iter().enumerate() {
        if boat.prices[..i]
            .iter()
            .any(|other| other.name == price.name)
        {
            let place = price.path();
            let span = walk.places.key_span(&place).unwrap_or_default();
            let message = format!("“{}” has a price already; one thing has one", price.name);
            walk.remark(Code::NameTwice, span, &place, message, None);
        }
    }
}

fn likes(walk: &mut Walk, boat: &mut Boat) {
    let keys: Vec<Key> = boat.things.iter().map(|thing| thing.key.clone()).collect();
    let likes: Vec<(Key, Option<Key>)> = boat
        .things
        .iter()
        .map(|thing| (thing.key.clone(), thing.like.clone()))
        .collect();
    let like_of = |key: &str| {
        likes
            .iter()
            .find(|(name, _)| name == key)
            .and_then(|(_, like)| like.clone())
    };
    for (key, like) in &likes {
        let Some(like) = like else {
            if boat
                .thing(key)
                .is_some_and(|thing| thing.kind.is_left_out())
                // A kind that can't be read has a remark already.
                && !walk.places.has(&format!("{}.kind", thing_path(key)))
            {
                let place = thing_path(key);
                let span = walk.places.key_span(&place).unwrap_or_default();
                let message = format!("kind is missing in the thing {key}, which is like no other");
                walk.remark(
                    Code::MissingKey,
                    span,
                    &place,
                    message,
                    Some("kind = \"oil cooler\"".into()),
                );
            }
            continue;
        };
        let place = format!("{}.like", thing_path(key));
        due(
            walk,
            &place,
            "thing",
            like,
            keys.iter().map(String::as_str).collect(),
        );
        let mut at = Some(like.clone());
        for _ in 0..=likes.len() {
            match at {
                Some(name) if name == *key => {
                    walk.remark_at(Code::Circle, &place, format!("{key} would be like itself"));
                    break;
                }
                Some(name) => at = like_of(&name),
                None => break,
            }
        }
    }
    // A copy of a copy takes as many rounds as there are things at most.
    for _ in 0..boat.things.len().min(8) {
        let models = boat.things.clone();
        for thing in &mut boat.things {
            thing.take_after(&models);
        }
        if models == boat.things {
            break;
        }
    }
}

fn ends(walk: &mut Walk, boat: &Boat, run: &Run, place: &str) {
    for (key, end) in [("from", &run.from), ("to", &run.to)] {
        one_end(walk, boat, end, &format!("{place}.{key}"));
    }
}

fn one_end(walk: &mut Walk, boat: &Boat, end: &RunEnd, place: &str) {
    let RunEnd::Thing { thing: key, spigot } = end else {
        return;
    };
    let Some(thing) = boat.thing(key) else {
        if let Some(run) = boat.run(key) {
            let tees: Vec<&str> = run
                .way
                .given()
                .map_or(&[][..], Vec::as_slice)
                .iter()
                .filter(|piece| matches!(piece.kind, PieceKind::Tee { .. }))
                .map(|piece| piece.name.as_str())
                .collect();
            let message = match spigot {
                Some(piece) => format!("the way of {key} has no tee called “{piece}”"),
                None => format!("{key} is a run; a tee of it is named with a dot: {key}.tee"),
            };
            let span = walk.places.span(place);
            let expected = (!tees.is_empty()).then(|| format!("{key}.{}", tees[0]));
            walk.remark(Code::UnknownReference, span, place, message, expected);
            return;
        }
        let known = boat
            .things
            .iter()
            .map(|thing| thing.key.as_str())
            .chain(boat.runs.iter().map(|run| run.key.as_str()));
        due(walk, place, "thing or run", key, known.collect());
        return;
    };
    let spigots: Vec<&str> = thing
        .spigots
        .iter()
        .map(|spigot| spigot.name.as_str())
        .chain(thing.ports.iter().map(|port| port.name.as_str()))
        .collect();
    let span = walk.places.span(place);
    match spigot {
        Some(name) if spigots.contains(&name.as_str()) => {}
        Some(name) if spigots.is_empty() => {
            let message = format!("{key} has no spigot yet, so none is called “{name}”");
            walk.remark(
                Code::NoSpigot,
                span,
                place,
                message,
                Some(format!(
                    "spigots.{name} = {{ od = \"?\" }} in {}",
                    thing.path()
                )),
            );
        }
        Some(name) => {
            let message = match nearest(name, spigots.iter().copied()) {
                Some(near) => format!("{key} has no spigot called “{name}”; did you mean {near}?"),
                None => format!("{key} has no spigot called “{name}”"),
            };
            walk.remark(
                Code::UnknownReference,
                span,
                place,
                message,
                Some(listed(spigots.iter().copied(), "or")),
            );
        }
        None if spigots.len() == 1 => {}
        None if spigots.is_empty() => {
            let message = format!("{key} has no spigot yet that a run could end on");
            walk.remark(
                Code::NoSpigot,
                span,
                place,
                message,
                Some(format!("spigots.a = {{ od = \"?\" }} in {}", thing.path())),
            );
        }
        None => {
            let message = format!("{key} has several spigots; which one?");
            let named = spigots
                .iter()
                .map(|spigot| format!("{key}.{spigot}"))
                .collect::<Vec<_>>();
            walk.remark(
                Code::SeveralSpigots,
                span,
                place,
                message,
                Some(listed(named.iter().map(String::as_str), "or")),
            );
        }
    }
}

fn things(walk: &mut Walk, boat: &Boat, things: &[Thing], names: &Names) {
    for thing in things {
        let place = thing_path(&thing.key);
        for (i, fitting) in thing.detail.between.iter().enumerate() {
            let known = names.things.iter().map(String::as_str).collect();
            due(
                walk,
                &format!("{place}.between[{i}]"),
                "thing",
                fitting,
                known,
            );
        }
        if let Some(run) = &thing.detail.on_run {
            due(
                walk,
                &format!("{place}.in"),
                "run",
                run,
                names.runs.iter().map(String::as_str).collect(),
            );
        }
        if let Some(cooler) = thing
            .engine
            .as_ref()
            .and_then(|engine| engine.extra.gearbox_cooler.as_ref())
        {
            let known = boat.things.iter().map(|thing| thing.key.as_str()).collect();
            due(walk, "engine.gearbox.cooler", "thing", cooler, known);
        }
    }
}

fn arrangements(walk: &mut Walk, boat: &Boat, names: &Names) {
    let all: Vec<&str> = boat
        .arrangements
        .iter()
        .map(|step| step.key.as_str())
        .collect();
    for step in &boat.arrangements {
        let place = joined("arrangements", &step.key);
        if let Some(from) = &step.from {
            due(
                walk,
                &format!("{place}.from"),
                "arrangement",
                from,
                all.clone(),
            );
            if all.contains(&from.as_str())
                && boat.lineage(&step.key).is_none()
                && in_circle(boat, &step.key)
            {
                walk.remark_at(
                    Code::Circle,
                    &format!("{place}.from"),
                    format!("{} would be a change of itself", step.key),
                );
            }
        }
        // Names before the change: what an arrangement replaces or removes must stand there.
        let Some(before) = boat.arranged(step.from.as_deref()) else {
            continue;
        };
        let before = before.boat;
        let things = before.things.iter().map(|thing| thing.key.as_str());
        let runs = before.runs.iter().map(|run| run.key.as_str());
        let either: Vec<&str> = things.chain(runs).collect();
        let replaced = step
            .replace_things
            .iter()
            .map(|thing| &thing.key)
            .chain(step.replace_runs.iter().map(|run| &run.key));
        for key in replaced {
            due(
                walk,
                &joined(&format!("{place}.replace"), key),
                "thing or run",
                key,
                either.clone(),
            );
        }
        for (i, key) in step.remove.iter().enumerate() {
            due(
                walk,
                &listed_place(walk, &format!("{place}.remove"), i),
                "thing or run",
                key,
                either.clone(),
            );
        }
        for thing in step.add_things.iter().chain(&step.replace_things) {
            let way = if step.add_things.iter().any(|added| added.key == thing.key) {
                "add"
            } else {
                "replace"
            };
            let at = joined(&format!("{place}.{way}"), &thing.key);
            match &thing.like {
                Some(like) => due(
                    walk,
                    &format!("{at}.like"),
                    "thing",
                    like,
                    before
                        .things
                        .iter()
                        .map(|thing| thing.key.as_str())
                        .collect(),
                ),
                None if thing.kind.is_left_out() && !walk.places.has(&format!("{at}.kind")) => {
                    let span = walk.places.key_span(&at).unwrap_or_default();
                    let message = format!(
                        "kind is missing in the thing {}, which is like no other",
                        thing.key
                    );
                    walk.remark(
                        Code::MissingKey,
                        span,
                        &at,
                        message,
                        Some("kind = \"oil cooler\"".into()),
                    );
                }
                None => {}
            }
            if let Some(run) = &thing.detail.on_run {
                due(
                    walk,
                    &format!("{at}.in"),
                    "run",
                    run,
                    names.runs.iter().map(String::as_str).collect(),
                );
            }
        }
        let added = step
            .add_things
            .iter()
            .map(|thing| &thing.key)
            .chain(step.add_runs.iter().map(|run| &run.key));
        for key in added {
            if either.contains(&key.as_str()) {
                let at = joined(&format!("{place}.add"), key);
                let span = walk.places.key_span(&at).unwrap_or_default();
                walk.remark(
                    Code::NameTwice,
                    span,
                    &at,
                    format!("“{key}” stands in the file already; replace it, or give another name"),
                    None,
                );
            }
        }
        let Some(after) = boat.arranged(Some(&step.key)) else {
            continue;
        };
        for run in &step.add_runs {
            if let Some(settled) = after.boat.run(&run.key) {
                ends(
                    walk,
                    &after.boat,
                    settled,
                    &joined(&format!("{place}.add"), &run.key),
                );
            }
        }
        for change in &step.replace_runs {
            let at = joined(&format!("{place}.replace"), &change.key);
            if let Some(settled) = after.boat.run(&change.key) {
                for (key, changed, end) in [
                    ("from", &change.from, &settled.from),
                    ("to", &change.to, &settled.to),
                ] {
                    if changed.is_some() {
                        one_end(walk, &after.boat, end, &format!("{at}.{key}"));
                    }
                }
            }
        }
        for (key, list) in [("blank", &step.blank), ("shut", &step.shut)] {
            for (i, name) in list.iter().enumerate() {
                let first = name.split('.').next().unwrap_or_default();
                let known = names.things.iter().chain(&names.runs);
                due(
                    walk,
                    &listed_place(walk, &format!("{place}.{key}"), i),
                    "thing or run",
                    first,
                    known.map(String::as_str).collect(),
                );
                let at = listed_place(walk, &format!("{place}.{key}"), i);
                for boat in [&after.boat, &before] {
                    if let Some((what, parts)) = parts_to(key, boat, first) {
                        if let Some((_, part)) = name.split_once('.') {
                            due(walk, &at, &what, part, parts);
                        }
                        break;
                    }
                }
            }
        }
    }
}

/// What of a thing or a run can be blanked off or shut: in words, and by name. `None` where there
/// is no such thing, or where a run's pieces are not known.
fn parts_to<'b>(act: &str, boat: &'b Boat, of: &str) -> Option<(String, Vec<&'b str>)> {
    let blank = act == "blank";
    if let Some(thing) = boat.thing(of) {
        let parts = if blank {
            let spigots = thing.spigots.iter().map(|spigot| spigot.name.as_str());
            let ports = thing.ports.iter().map(|port| port.name.as_str());
            spigots.chain(ports).chain(["cap"]).collect()
        } else {
            let valves = thing.chain.iter().filter(|part| part.kind.is_valve());
            let own = thing.valve.as_ref().map(|_| "valve");
            valves.map(|part| part.name.as_str()).chain(own).collect()
        };
        let what = if blank {
            "spigot, port or cap"
        } else {
            "valve"
        };
        return Some((format!("{what} of {of}"), parts));
    }
    let pieces = boat.run(of)?.way.given()?;
    let fits = |kind: &PieceKind| match kind {
        PieceKind::Tee { .. } => blank,
        // A check valve is shut by the water alone.
        kind => kind.can_be_shut() && !blank,
    };
    let parts = pieces.iter().filter(|piece| fits(&piece.kind));
    let what = if blank { "tee" } else { "valve" };
    Some((
        format!("{what} in {of}"),
        parts.map(|piece| piece.name.as_str()).collect(),
    ))
}

/// The place of an item of a list, or of the whole where it stands without brackets.
fn listed_place(walk: &Walk, place: &str, index: usize) -> KeyPath {
    let item = format!("{place}[{index}]");
    if walk.places.has(&item) {
        item
    } else {
        place.to_owned()
    }
}

/// Whether following `from` comes back to where it began.
fn in_circle(boat: &Boat, key: &str) -> bool {
    let mut at = key;
    for _ in 0..=boat.arrangements.len() {
        let Some(from) = boat
            .arrangements
            .iter()
            .find(|step| step.key == at)
            .and_then(|step| step.from.as_deref())
        else {
            return false;
        };
        if from == key {
            return true;
        }
        at = from;
    }
    false
}

fn marks(walk: &mut Walk, boat: &Boat) {
    for (i, run) in boat.runs.iter().enumerate() {
        let Some(mark) = &run.mark else { continue };
        if let Some(other) = boat.runs[..i]
            .iter()
            .find(|other| other.mark.as_ref() == Some(mark))
        {
            let message = format!("the mark {mark} is on {} already", other.key);
            walk.remark_at(
                Code::MarkTwice,
                &format!("{}.mark", run_path(&run.key)),
                message,
            );
        }
    }
}

/// The joints of a run: `hot.from`, `hot.reducer.a`, …, `hot.to`.
pub(crate) fn joint_keys(run: &Run) -> Vec<Key> {
    let pieces = run.way.given().map_or(&[][..], Vec::as_slice);
    let males = pieces.iter().filter(|piece| piece.kind.is_male());
    let inner =
        males.flat_map(|piece| ["a", "b"].map(|end| format!("{}.{}.{end}", run.key, piece.name)));
    std::iter::once(format!("{}.from", run.key))
        .chain(inner)
        .chain(std::iter::once(format!("{}.to", run.key)))
        .collect()
}

/// The joints of every run in the file as it stands and in the arrangements.
pub(crate) fn known_joints(boat: &Boat) -> Vec<Key> {
    let mut known = Vec::new();
    let names =
        std::iter::once(None).chain(boat.arrangements.iter().map(|step| Some(step.key.as_str())));
    for arranged in names.filter_map(|name| boat.arranged(name)) {
        known.extend(arranged.boat.runs.iter().flat_map(joint_keys));
    }
    known.sort();
    known.dedup();
    known
}

fn joints(walk: &mut Walk, boat: &Boat) {
    let known = known_joints(boat);
    for note in &boat.joints {
        let place = joint_path(&note.joint);
        if !known.contains(&note.joint) {
            let message = match nearest(&note.joint, known.iter().map(String::as_str)) {
                Some(near) => format!("no joint is called “{}”; did you mean {near}?", note.joint),
                None => format!("no joint is called “{}”", note.joint),
            };
            let run = note.joint.split('.').next().unwrap_or_default();
            let of_run: Vec<&str> = known
                .iter()
                .map(String::as_str)
                .filter(|joint| joint.split('.').next() == Some(run))
                .collect();
            let span = walk.places.key_span(&place).unwrap_or_default();
            walk.remark(
                Code::UnknownJoint,
                span,
                &place,
                message,
                (!of_run.is_empty()).then(|| listed(of_run, "or")),
            );
            continue;
        }
        // An end on a tee is an end of a bought piece; one on a thing is measured with the thing.
        let on_thing = note.joint.rsplit_once('.').is_some_and(|(run, end)| {
            let run = boat.run(run);
            match end {
                "from" => run.is_some_and(|run| matches!(run.from, RunEnd::Thing { .. })),
                "to" => run.is_some_and(|run| matches!(run.to, RunEnd::Thing { .. })),
                _ => false,
            }
        });
        if on_thing && !note.spigot.od.is_left_out() {
            let message = "this end sits on a thing, whose spigot is measured there; the size here is not used";
            walk.remark_at(Code::MeasuredTwice, &format!("{place}.od"), message);
        }
    }
}

/// Two hoses on one end, in the file as it stands and in every arrangement.
fn shared_ends(walk: &mut Walk, boat: &Boat) {
    let names =
        std::iter::once(None).chain(boat.arrangements.iter().map(|step| Some(step.key.as_str())));
    let mut told: Vec<(String, String)> = Vec::new();
    for name in names {
        let Some(arranged) = boat.arranged(name) else {
            continue;
        };
        let mut taken: Vec<(&RunEnd, String)> = Vec::new();
        for run in &arranged.boat.runs {
            let place = arranged.run_place(&run.key);
            for (key, end) in [("from", &run.from), ("to", &run.to)] {
                let own = format!("{}.{key}", run.key);
                let other = taken.iter().find(|(taken, _)| *taken == end);
                if let Some((_, other)) = other
                    && !told.contains(&(own.clone(), other.clone()))
                {
                    told.push((own.clone(), other.clone()));
                    let where_ = name.map_or_else(String::new, |name| format!(" in “{name}”"));
                    let message = format!("{other} sits on this end already{where_}");
                    // A replaced run keeps its ends where they were typed first.
                    let typed = [
                        format!("{place}.{key}"),
                        format!("{}.{key}", run_path(&run.key)),
                    ];
                    let at = typed.iter().find(|at| walk.places.key_span(at).is_some());
                    walk.remark_at(Code::EndTwice, at.unwrap_or(&typed[0]), message);
                }
                taken.push((end, own));
            }
        }
    }
}

/// A rule that reads much like one that is judged, and is none.
fn rules(walk: &mut Walk, boat: &Boat) {
    for (i, rule) in boat.about.rules.iter().enumerate() {
        if rule.governs.is_some() {
            continue;
        }
        let text = rule.text.to_lowercase();
        let has = |words: &[&str]| words.iter().any(|word| text.contains(word));
        let near = nearest(&rule.text, Governs::LIST.printed());
        let about_clips = has(&["clip"])
            && (has(&["two ", "2 ", "double"]) && has(&["water"]) || has(&["spring"]));
        if near.is_some() || about_clips {
            let message = format!(
                "“{}” is printed but not judged: {} are the rules that are",
                rule.text,
                listed(Governs::LIST.printed(), "and")
            );
            walk.remark_at(Code::RuleNotJudged, &format!("boat.rules[{i}]"), message);
        }
    }
}

fn beads(walk: &mut Walk, boat: &Boat) {
    let of_things = boat.things.iter().flat_map(|thing| {
        thing
            .spigots
            .iter()
            .map(|spigot| (spigot_path(&thing.key, &spigot.name), spigot))
    });
    let of_joints = boat
        .joints
        .iter()
        .map(|note| (joint_path(&note.joint), &note.spigot));
    let all: Vec<_> = of_things.chain(of_joints).collect();
    for (place, spigot) in all {
        // A copied size has no place of its own; the remark stands where it was typed.
        let place = format!("{place}.bead");
        if let (Some(od), Some(bead), true) = (
            spigot.od.given(),
            spigot.bead.given(),
            walk.places.has(&place),
        ) && bead.value < od.value
        {
            walk.remark_at(
                Code::BeadUnderSpigot,
                &place,
                "the bead is smaller than the spigot behind it; was one taken for the other?",
            );
        }
    }
}
