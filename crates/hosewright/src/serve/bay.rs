//! The bay as the page draws it, and distances in it.

use quantity::System;
use reckon::Route;

use super::App;
use super::answers::meant;
use super::refused::Refused;
use super::stages::{Print, Which};
use crate::api::{
    Bay, BayArc, BayAxes, BayBend, BayBody, BayClip, BayFaces, BayFact, BayGap, BayHatch,
    BayMissing, BayPart, BayPartKind, BayRun, BayScan, BaySchema, BaySpot, BayWay, MeasureAsk,
    MeasureEnd, MeasureOn, Measured, P3,
};

impl App {
    /// The bay in an arrangement.
    pub(crate) fn bay(&self, print: &Print) -> Result<Bay, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, print.arrangement.as_deref())?;
        let answers = self.answers(&sheet, &arrangement);
        let units: System = print.units.into();
        let answer = answers.answer();
        let ids = |subject: &dyn Fn(&str) -> bool| -> Vec<String> {
            answer
                .verdicts
                .iter()
                .filter(|verdict| {
                    verdict.stage == reckon::Stage::Route && subject(&verdict.subject)
                })
                .map(|verdict| verdict.id.clone())
                .collect()
        };
        let empty = Route::default();
        let route = answer.route.as_deref().unwrap_or(&empty);
        let runs: Vec<BayRun> = route
            .runs
            .iter()
            .map(|run| sent_run(run, units, ids(&|subject| subject == run.run)))
            .collect();
        let clips: Vec<BayClip> = route
            .clips
            .iter()
            .map(|clip| {
                let mut own = ids(&|subject| subject == clip.joint);
                own.retain(|id| clip.is_judged_by(id));
                sent_clip(clip, units, own)
            })
            .collect();
        let bodies: Vec<BayBody> = route.bodies.iter().map(sent_body).collect();
        let scanned = route.scan.iter().flat_map(|scan| scan.mesh.triangles());
        let drawn = points_of(&bodies, &runs)
            .chain(route.hatch.into_iter().flatten())
            .chain(scanned.flatten().map(|corner| corner.to_array()));
        let (low, high) = bounds(drawn);
        let missing: Vec<BayMissing> = route.missing.iter().map(sent_missing).collect();
        let spoken = spoken(&runs, &missing);
        let [x, y] = route.axes.clone();
        Ok(Bay {
            schema: BaySchema::V1,
            number: sheet.number,
            axes: BayAxes { x, y },
            low,
            high,
            hatch: route.hatch.map(|corners| BayHatch {
                corners: corners.to_vec(),
            }),
            bodies,
            scan: route.scan.as_ref().map(|scan| BayScan {
                triangles: scan.triangles as u64,
                error: scan.error.in_units(units).to_owned(),
                laid: scan.laid.in_units(units).to_owned(),
            }),
            runs,
            clips,
            missing,
            moves: (route.moves > 0.0).then_some([0.0, 0.0, route.moves]),
            spoken,
        })
    }

    /// Points of the scan as it was laid in: x, y, z [m], four bytes each, the least significant first.
    pub(crate) fn bay_points(&self, which: &Which) -> Result<Vec<u8>, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, which.name())?;
        let answers = self.answers(&sheet, &arrangement);
        let route = answers.answer().route.as_deref();
        let scan = route.and_then(|route| route.scan.as_ref());
        let scan = scan.ok_or_else(|| Refused::missing("No scan is laid in."))?;
        let corners = scan.mesh.triangles().flatten();
        // Each corner belongs to some six triangles: one of them draws it.
        let mut seen = std::collections::BTreeSet::new();
        let mut bytes = Vec::new();
        for corner in corners {
            let at = corner.to_array().map(|along| along as f32);
            if seen.insert(at.map(f32::to_bits)) {
                bytes.extend(at.into_iter().flat_map(f32::to_le_bytes));
            }
        }
        Ok(bytes)
    }

    /// How far it is from one place of the bay to another.
    pub(crate) fn measured(&self, ask: &MeasureAsk, units: System) -> Result<Measured, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, ask.arrangement.as_deref())?;
        let answers = self.answers(&sheet, &arrangement);
        let route = answers.answer().route.as_deref();
        let known = |key: &str| route.and_then(|route| route.place_of(key));
        // Where it is, and how far that may be off where anybody knows.
        let place = |end: &MeasureEnd| -> Result<(P3, Option<f64>), Refused> {
            let named = end.key.as_deref().and_then(known);
            if let Some(at) = end.at.filter(|at| at.iter().all(|along| along.is_finite())) {
                let scan = route.and_then(|route| route.scan.as_ref());
                let half = match end.on {
                    Some(MeasureOn::Scan) => scan.map(|scan| scan.half),
                    _ => named.map(|(_, half)| half),
                };
                return Ok((at, half));
            }
            if end.key.is_none() {
                return Err(Refused::unfit("A place wants a key or a point."));
            }
            let (at, half) =
                named.ok_or_else(|| Refused::missing("Nobody knows yet where that is."))?;
            Ok((at, Some(half)))
        };
        let ((from, near), (to, far)) = (place(&ask.from)?, place(&ask.to)?);
        let half = near.zip(far).map(|(near, far)| near.hypot(far));
        let (text, deviation) = reckon::apart(from, to, half.unwrap_or(0.0));
        let deviation = deviation.map(|text| text.in_units(units).to_owned());
        Ok(Measured {
            text: text.in_units(units).to_owned(),
            deviation: deviation.or_else(|| Some("tolerance not known".to_owned())),
        })
    }
}

fn sent_run(run: &reckon::LaidRun, units: System, verdicts: Vec<String>) -> BayRun {
    let words = |words: &reckon::Words| words.in_units(units).to_owned();
    let spots = |spots: &[reckon::LaidSpot]| {
        spots
            .iter()
            .map(|spot| BaySpot {
                at: spot.at,
                text: words(&spot.text),
            })
            .collect()
    };
    let line = |line: &[P3]| (!line.is_empty()).then(|| line.to_vec());
    BayRun {
        run: run.run.clone(),
        mark: run.mark.clone(),
        title: run.title.clone(),
        grade: run.grade.word().to_owned(),
        verdicts,
        parts: run
            .parts
            .iter()
            .map(|part| BayPart {
                kind: if part.bends {
                    BayPartKind::Hose
                } else {
                    BayPartKind::Rigid
                },
                line: part.line.clone(),
                radius: part.radius,
                title: part.title.clone(),
                cut: part.cut_text.as_ref().map(|cut| match &part.window_text {
                    Some(window) => format!("{}; {}", words(cut), words(window)),
                    None => words(cut),
                }),
            })
            .collect(),
        up: line(&run.up),
        down: line(&run.down),
        bend: run.bend.as_ref().map(|bend| BayBend {
            at: bend.at,
            centre: bend.centre,
            radius: bend.radius,
            text: words(&bend.text),
        }),
        gap: run.gap.as_ref().map(|gap| BayGap {
            from: gap.from,
            to: gap.to,
            text: words(&gap.text),
            with: gap.with.clone(),
        }),
        highs: spots(&run.highs),
        lows: spots(&run.lows),
        facts: run
            .facts
            .iter()
            .map(|(name, text)| BayFact {
                name: name.clone(),
                text: words(text),
            })
            .collect(),
    }
}

fn sent_clip(clip: &reckon::LaidClip, units: System, verdicts: Vec<String>) -> BayClip {
    BayClip {
        joint: clip.joint.clone(),
        nth: clip.nth,
        of: clip.of,
        mark: clip.mark.clone(),
        title: clip.title.clone(),
        grade: clip.grade.word().to_owned(),
        at: clip.at,
        axis: clip.axis,
        noon: clip.noon,
        radius: clip.radius,
        screw: clip.screw,
        clock: clip.clock.clone(),
        tool: clip.tool.clone(),
        way: clip
            .way
            .iter()
            .map(|(points, radius)| BayWay {
                points: points.clone(),
                radius: *radius,
            })
            .collect(),
        free: clip
            .free
            .iter()
            .map(|(from, to)| BayArc {
                from: *from,
                to: *to,
            })
            .collect(),
        free_text: sheets::draw::hose::free_of(clip),
        text: clip.text.in_units(units).to_owned(),
        verdicts,
    }
}

fn sent_body(body: &reckon::LaidBody) -> BayBody {
    BayBody {
        name: body.name.clone(),
        title: body.title.clone(),
        nature: body.nature.clone(),
        frame: body.frame.clone(),
        keep: body.keep,
        faces: BayFaces {
            points: body.points.clone(),
            triangles: body.triangles.clone(),
            edges: body.edges.clone(),
        },
    }
}

fn sent_missing(missing: &reckon::NotLaid) -> BayMissing {
    BayMissing {
        run: missing.run.clone(),
        mark: missing.mark.clone(),
        why: missing.why.clone(),
        settles: missing.settles.how.clone(),
    }
}

/// The corners of bodies and the lines of runs.
fn points_of<'a>(bodies: &'a [BayBody], runs: &'a [BayRun]) -> impl Iterator<Item = P3> + 'a {
    let lines = runs.iter().flat_map(|run| &run.parts);
    let corners = bodies.iter().flat_map(|body| &body.faces.points);
    corners.chain(lines.flat_map(|part| &part.line)).copied()
}

/// The box around all that is drawn.
fn bounds(points: impl Iterator<Item = P3>) -> (P3, P3) {
    let mut found: Option<(P3, P3)> = None;
    for point in points {
        let (low, high) = found.get_or_insert((point, point));
        for ((low, high), along) in low.iter_mut().zip(high).zip(point) {
            *low = low.min(along);
            *high = high.max(along);
        }
    }
    found.unwrap_or(([0.0; 3], [1.0; 3]))
}

/// The whole in one sentence; what follows it on the page begins anew.
fn spoken(runs: &[BayRun], missing: &[BayMissing]) -> String {
    let count = |count: usize, one: &str| {
        if count == 1 {
            format!("1 {one}")
        } else {
            format!("{count} {one}s")
        }
    };
    let unsound = runs.iter().filter(|run| run.grade == "unsound").count();
    let wanting = match missing.len() {
        0 => String::new(),
        many => format!("; {} can't be laid yet", count(many, "run")),
    };
    format!(
        "The bay with {} as they hang, {unsound} of them unsound{wanting}.",
        count(runs.len(), "run"),
    )
}
