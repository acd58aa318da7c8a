//! Strip and loop, laid out for the width that was asked for.

use reckon::{Stage, StripAsk};
use serde::Deserialize;
use sheets::draw::around::{self, AroundForm};
use sheets::draw::strip::{self, Form, StripForm};
use ts_rs::TS;

use super::App;
use super::answers::meant;
use super::refused::Refused;
use super::values::Units;
use crate::api::Drawing;

/// The arrangement as found, whose figures stand in brackets beside those of the others.
const BEFORE: &str = "before";
/// Least and greatest width and height of a picture [px].
const SIZES: (f64, f64) = (120.0, 6000.0);

/// What is asked of a strip.
#[derive(Clone, Debug, Default, Deserialize, TS)]
#[serde(default)]
#[ts(optional_fields = nullable)]
pub struct StripQuery {
    arrangement: Option<String>,
    state: Option<String>,
    chapter: Option<String>,
    /// [px]
    width: Option<f64>,
    /// `ribbon`, `half` or `tall`.
    form: Option<String>,
    /// Least width of a piece [px].
    least: Option<f64>,
    units: Units,
    branch: Option<String>,
    /// To starboard over 0 [°]; where it is left out she lies upright.
    heel: Option<f64>,
    /// By the head over 0 [°].
    trim: Option<f64>,
    /// An arrangement to be drawn behind it, to see what changed.
    before: Option<String>,
    /// The branch is laid under the main circuit, and keeps its heights.
    level: bool,
}

/// What is asked of the loop drawing.
#[derive(Clone, Debug, Default, Deserialize, TS)]
#[serde(default)]
#[ts(optional_fields = nullable)]
pub struct LoopQuery {
    arrangement: Option<String>,
    state: Option<String>,
    /// [px]
    width: Option<f64>,
    /// [px]
    height: Option<f64>,
    units: Units,
}

/// A size that can be drawn; another is brought to the nearest.
fn size(asked: Option<f64>, usual: f64) -> f64 {
    let (least, most) = SIZES;
    asked
        .filter(|size| size.is_finite())
        .unwrap_or(usual)
        .clamp(least, most)
}

fn stage(chapter: Option<&str>) -> Stage {
    const ALL: [Stage; 12] = [
        Stage::Survey,
        Stage::Circuit,
        Stage::Route,
        Stage::Fit,
        Stage::Flow,
        Stage::Order,
        Stage::Drain,
        Stage::Build,
        Stage::Fill,
        Stage::Prove,
        Stage::Watch,
        Stage::Home,
    ];
    let named = ALL.into_iter().find(|stage| Some(stage.key()) == chapter);
    named.unwrap_or(Stage::Survey)
}

/// A text that was asked for, if it says anything.
fn given(text: &Option<String>) -> Option<&str> {
    text.as_deref().filter(|text| !text.is_empty())
}

impl App {
    /// The waterline strip.
    pub(crate) fn strip(&self, asked: &StripQuery) -> Result<Drawing, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, given(&asked.arrangement))?;
        let angle = |angle: Option<f64>| {
            let angle = angle.filter(|angle| angle.is_finite() && angle.abs() <= 45.0);
            angle.into_iter().collect::<Vec<f64>>()
        };
        let ask = StripAsk {
            state: given(&asked.state).map(str::to_owned),
            heel: angle(asked.heel),
            trim: angle(asked.trim),
        };
        let boat = &sheet.loaded.boat;
        let told = |arrangement: &Option<String>, ask: &StripAsk| {
            let answers = self.answers(&sheet, arrangement);
            let flow = answers.flow();
            reckon::strip(boat, arrangement.as_deref(), ask, answers.answer(), flow)
                .ok_or_else(|| Refused::missing("There is no such arrangement."))
        };
        let behind = given(&asked.before)
            .map(|name| meant(&sheet, Some(name)))
            .transpose()?
            .filter(|before| *before != arrangement);
        // The same state of both, where both have it; heel and trim are asked of what is looked at.
        let behind_ask = StripAsk {
            state: ask.state.clone(),
            ..StripAsk::default()
        };
        let behind = behind
            .map(|before| told(&before, &behind_ask))
            .transpose()?;
        let told = told(&arrangement, &ask)?;
        let form = StripForm {
            least: asked
                .least
                .filter(|least| least.is_finite())
                .unwrap_or(40.0)
                .clamp(0.0, 400.0),
            chapter: stage(asked.chapter.as_deref()),
            branch: given(&asked.branch),
            before: behind.as_ref(),
            level: asked.level,
            ..StripForm::of(
                size(asked.width, 1296.0),
                match asked.form.as_deref() {
                    Some("ribbon") => Form::Ribbon,
                    Some("tall") => Form::Tall,
                    _ => Form::Half,
                },
                asked.units.into(),
            )
        };
        let drawing = strip::strip(&told, &form);
        Ok(Drawing::of_strip(sheet.number, drawing, &told.traces))
    }

    /// The loop drawing.
    pub(crate) fn around(&self, asked: &LoopQuery) -> Result<Drawing, Refused> {
        let sheet = self.sheet()?;
        let arrangement = meant(&sheet, given(&asked.arrangement))?;
        let answers = self.answers(&sheet, &arrangement);
        let boat = &sheet.loaded.boat;
        let steps = &boat.arrangements;
        let beside =
            arrangement.as_deref() != Some(BEFORE) && steps.iter().any(|step| step.key == BEFORE);
        let before = beside.then(|| self.answers(&sheet, &Some(BEFORE.to_owned())));
        let before = before.as_ref().and_then(|before| before.flow());
        let told = reckon::around(
            boat,
            answers.answer(),
            answers.flow(),
            before,
            given(&asked.state),
        )
        .ok_or_else(|| Refused::missing("There is no such arrangement."))?;
        let form = AroundForm {
            width: size(asked.width, 896.0),
            height: size(asked.height, 496.0),
            units: asked.units.into(),
        };
        Ok(Drawing::of(sheet.number, around::around(&told, &form)))
    }
}
