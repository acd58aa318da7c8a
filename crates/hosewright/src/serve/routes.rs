//! Which call does what.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{DefaultBodyLimit, FromRequest, Path, Query, Request, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Extension, Json, Router, middleware};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use ts_rs::TS;

use super::boats::{self, BeginAsk};
use super::desk::{Edit, Way};
use super::draw::{LoopQuery, StripQuery};
use super::entries::SentEntry;
use super::guard::Asker;
use super::keep::KeepAsk;
use super::lanes::{Lane, SCAN};
use super::refused::Refused;
use super::stages::{Print, Which};
use super::trial::TrialAsk;
use super::values::{ReadingAsk, Units};
use super::{App, answered, assets, events, guard};
use crate::api::{
    Bay, Boats, Card, Drawing, Fill, Flow, LayAsk, MeasureAsk, Measured, Order, Outcomes, Page,
    ReadingAnswer, ScanLaid, ScanLeave, ScanLook, ScanPoint, ScanRay, Share, SurveyPage, Trial,
    ValueAnswer, Working,
};
use crate::scan;

/// Largest body of a call [bytes].
const BODY: usize = 256 * 1024;
/// Edits of one call at most.
const EDITS: usize = 200;

type Own = State<Arc<App>>;
type Answer<T> = Result<Json<T>, Refused>;

/// All calls.
pub fn router(app: Arc<App>) -> Router {
    Router::new()
        .route("/api/page", get(page))
        .route("/api/working", get(working))
        .route("/api/strip", get(strip))
        .route("/api/loop", get(around))
        .route("/api/edits", post(edits))
        .route("/api/back", post(back))
        .route("/api/forth", post(forth))
        .route("/api/reading", post(reading))
        .route("/api/value", get(value))
        .route("/api/trial", post(trial))
        .route("/api/keep", post(keep))
        .route("/api/survey", get(survey))
        .route("/api/entries", post(entries))
        .route("/api/settle", post(settle))
        .route("/api/flow", get(flow))
        .route("/api/order", get(order))
        .route("/api/fill", get(fill))
        .route("/api/bay", get(bay))
        .route("/api/measure", post(measure))
        .route("/api/bay/points", get(bay_points))
        .route(
            "/api/scan",
            post(scan_look).layer(DefaultBodyLimit::max(scan::MAX_BYTES as usize)),
        )
        .route("/api/scan/point", post(scan_point))
        .route("/api/scan/leave", post(scan_leave))
        .route("/api/scan/lay", post(scan_lay))
        .route("/api/card", get(card))
        .route("/api/sheets/{file}", get(printed))
        .route("/api/export/verdicts.csv", get(table))
        .route("/api/export/boat.toml", get(boat_file))
        .route("/api/export/folder.zip", get(folder))
        .route("/api/boats", get(boats_told).post(begin))
        .route("/api/events", get(events::events))
        .route("/api/share", get(share))
        .route("/api/share/key", post(new_key))
        .route("/api/share/end", post(end_sharing))
        .fallback(assets::file)
        .layer(DefaultBodyLimit::max(BODY))
        .layer(middleware::from_fn_with_state(
            Arc::clone(&app),
            guard::guard,
        ))
        .with_state(app)
}

/// A body as JSON, or why it is none.
struct Sent<T>(T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequest<S> for Sent<T> {
    type Rejection = Refused;
    async fn from_request(request: Request, state: &S) -> Result<Self, Refused> {
        match Json::<T>::from_request(request, state).await {
            Ok(Json(sent)) => Ok(Self(sent)),
            Err(refused) => {
                let status = refused.status();
                let why = if status == StatusCode::PAYLOAD_TOO_LARGE {
                    format!("That is larger than {} kB.", BODY / 1024)
                } else {
                    refused.body_text()
                };
                Err(Refused::new(status, why))
            }
        }
    }
}

/// Does the work of a call in its lane.
async fn work<T: Send + 'static>(
    app: &Arc<App>,
    lane: &Lane,
    job: impl FnOnce(&App) -> Result<T, Refused> + Send + 'static,
) -> Result<T, Refused> {
    let inner = Arc::clone(app);
    lane.run(move || job(&inner)).await
}

async fn page(State(app): Own, Query(which): Query<Which>) -> Answer<Page> {
    Ok(Json(answered(&app, which.arrangement, None).await?))
}

/// The answer after something was written, about the arrangement that the writer looks at.
async fn written(app: &Arc<App>, which: Which) -> Answer<Page> {
    let writer = which.writer();
    Ok(Json(answered(app, which.arrangement, writer).await?))
}

#[derive(Debug, Deserialize)]
struct WorkingQuery {
    arrangement: Option<String>,
    id: String,
}

async fn working(State(app): Own, Query(asked): Query<WorkingQuery>) -> Answer<Working> {
    let working = work(&app, &app.lanes.draw, move |app| {
        app.working(asked.arrangement.as_deref(), &asked.id)
    });
    Ok(Json(working.await?))
}

async fn strip(State(app): Own, Query(asked): Query<StripQuery>) -> Answer<Drawing> {
    let drawing = work(&app, &app.lanes.draw, move |app| app.strip(&asked));
    Ok(Json(drawing.await?))
}

async fn around(State(app): Own, Query(asked): Query<LoopQuery>) -> Answer<Drawing> {
    let drawing = work(&app, &app.lanes.draw, move |app| app.around(&asked));
    Ok(Json(drawing.await?))
}

/// Values to be written, as one step.
#[derive(Debug, Deserialize, TS)]
pub struct EditsAsk {
    /// The number of the change at which the values were seen that are written over.
    number: u64,
    /// What the step is called; empty where the program names it by what is written.
    #[serde(default)]
    label: String,
    edits: Vec<Edit>,
}

async fn edits(
    State(app): Own,
    Query(which): Query<Which>,
    Sent(sent): Sent<EditsAsk>,
) -> Answer<Page> {
    if sent.edits.is_empty() || sent.edits.len() > EDITS {
        return Err(Refused::unfit(format!("From 1 to {EDITS} edits are due.")));
    }
    work(&app, &app.lanes.edit, move |app| {
        app.edit(sent.number, &sent.label, &sent.edits)
    })
    .await?;
    written(&app, which).await
}

/// A step to be taken back or put back.
#[derive(Debug, Deserialize, TS)]
pub struct StepAsk {
    /// The number of the change that the page shows.
    number: u64,
}

async fn back(
    State(app): Own,
    Query(which): Query<Which>,
    Sent(sent): Sent<StepAsk>,
) -> Answer<Page> {
    work(&app, &app.lanes.edit, move |app| {
        app.turn(sent.number, Way::Back)
    })
    .await?;
    written(&app, which).await
}

async fn forth(
    State(app): Own,
    Query(which): Query<Which>,
    Sent(sent): Sent<StepAsk>,
) -> Answer<Page> {
    work(&app, &app.lanes.edit, move |app| {
        app.turn(sent.number, Way::Forth)
    })
    .await?;
    written(&app, which).await
}

async fn reading(State(app): Own, Sent(typed): Sent<ReadingAsk>) -> Answer<ReadingAnswer> {
    let read = work(&app, &app.lanes.value, move |app| app.reading(&typed));
    Ok(Json(read.await?))
}

#[derive(Debug, Deserialize)]
struct At {
    place: String,
}

async fn value(State(app): Own, Query(at): Query<At>) -> Answer<ValueAnswer> {
    let value = work(&app, &app.lanes.value, move |app| app.value(&at.place));
    Ok(Json(value.await?))
}

async fn trial(State(app): Own, Sent(ask): Sent<TrialAsk>) -> Answer<Trial> {
    let trial = work(&app, &app.lanes.trial, move |app| app.trial(&ask));
    Ok(Json(trial.await?))
}

async fn keep(
    State(app): Own,
    Query(which): Query<Which>,
    Sent(ask): Sent<KeepAsk>,
) -> Answer<Page> {
    work(&app, &app.lanes.edit, move |app| app.keep_trial(&ask)).await?;
    written(&app, which).await
}

async fn survey(State(app): Own, Query(which): Query<Which>) -> Answer<SurveyPage> {
    let survey = work(&app, &app.lanes.survey, move |app| app.survey(&which));
    Ok(Json(survey.await?))
}

/// Readings that a phone kept.
#[derive(Debug, Deserialize, TS)]
pub struct EntriesAsk {
    entries: Vec<SentEntry>,
}

async fn entries(
    State(app): Own,
    Extension(from): Extension<Asker>,
    Sent(sent): Sent<EntriesAsk>,
) -> Answer<Outcomes> {
    let outcomes = work(&app, &app.lanes.edit, move |app| {
        app.entries(&sent.entries, from.device())
    });
    Ok(Json(outcomes.await?))
}

/// Which of two readings stands.
#[derive(Debug, Deserialize, TS)]
pub struct SettleAsk {
    /// The number of the change that the page shows.
    number: u64,
    place: String,
    /// The reading that stands, as it was sent.
    keep: String,
}

async fn settle(
    State(app): Own,
    Query(which): Query<Which>,
    Sent(sent): Sent<SettleAsk>,
) -> Answer<Page> {
    work(&app, &app.lanes.edit, move |app| {
        app.settle_pair(sent.number, &sent.place, &sent.keep)
    })
    .await?;
    written(&app, which).await
}

async fn flow(State(app): Own, Query(which): Query<Which>) -> Answer<Flow> {
    let flow = work(&app, &app.lanes.stage, move |app| app.flow(&which));
    Ok(Json(flow.await?))
}

async fn order(State(app): Own, Query(which): Query<Which>) -> Answer<Order> {
    let order = work(&app, &app.lanes.stage, move |app| app.order(&which));
    Ok(Json(order.await?))
}

async fn bay(State(app): Own, Query(print): Query<Print>) -> Answer<Bay> {
    let bay = work(&app, &app.lanes.draw, move |app| app.bay(&print));
    Ok(Json(bay.await?))
}

/// Points of the scan as laid in: x, y, z [m], four bytes each, the least significant first.
async fn bay_points(State(app): Own, Query(which): Query<Which>) -> Result<Response, Refused> {
    let bytes = work(&app, &app.lanes.draw, move |app| app.bay_points(&which)).await?;
    Ok(([(header::CONTENT_TYPE, "application/octet-stream")], bytes).into_response())
}

#[derive(Debug, Deserialize)]
struct ScanQuery {
    name: String,
    arrangement: Option<String>,
    #[serde(default)]
    units: Units,
}

async fn scan_look(
    State(app): Own,
    Query(asked): Query<ScanQuery>,
    body: Result<Bytes, BytesRejection>,
) -> Answer<ScanLook> {
    let body = body.map_err(|refused| {
        let status = refused.status();
        Refused::new(
            status,
            if status == StatusCode::PAYLOAD_TOO_LARGE {
                scan::too_large()
            } else {
                refused.body_text()
            },
        )
    })?;
    let look = work(&app, &app.lanes.scan, move |app| {
        let arrangement = asked.arrangement.as_deref();
        app.scan_look(&asked.name, body, arrangement, asked.units.into())
    });
    Ok(Json(look.await?))
}

async fn scan_point(State(app): Own, Sent(ray): Sent<ScanRay>) -> Answer<ScanPoint> {
    let point = work(&app, &app.lanes.scan, move |app| app.scan_point(&ray));
    Ok(Json(point.await?))
}

async fn scan_leave(State(app): Own, Sent(left): Sent<ScanLeave>) -> Json<()> {
    app.scan_leave(&left.id);
    Json(())
}

async fn scan_lay(
    State(app): Own,
    Query(print): Query<Print>,
    Sent(ask): Sent<LayAsk>,
) -> Answer<ScanLaid> {
    let (lane, inner) = (
        if ask.keep {
            &app.lanes.edit
        } else {
            &app.lanes.scan
        },
        Arc::clone(&app),
    );
    // One that is kept is judged against every hose before the answer.
    let laid = lane.run_within(SCAN, move || inner.scan_lay(&ask, &print));
    Ok(Json(laid.await?))
}

async fn measure(
    State(app): Own,
    Query(print): Query<Print>,
    Sent(ask): Sent<MeasureAsk>,
) -> Answer<Measured> {
    let measured = work(&app, &app.lanes.draw, move |app| {
        app.measured(&ask, print.units.into())
    });
    Ok(Json(measured.await?))
}

async fn fill(State(app): Own, Query(which): Query<Which>) -> Answer<Fill> {
    let fill = work(&app, &app.lanes.stage, move |app| app.fill(&which));
    Ok(Json(fill.await?))
}

async fn card(State(app): Own, Query(which): Query<Which>) -> Answer<Card> {
    let card = work(&app, &app.lanes.stage, move |app| app.card(&which));
    Ok(Json(card.await?))
}

/// A file, with its kind and the name that it is kept by.
fn file(kind: &'static str, name: &str, bytes: Vec<u8>) -> Response {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, '.' | '-');
    let name: String = name.chars().filter(|letter| plain(*letter)).collect();
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (
            header::CONTENT_DISPOSITION,
            format!("attachment; filename=\"{name}\""),
        ),
    ];
    (headers, bytes).into_response()
}

async fn printed(
    State(app): Own,
    Path(name): Path<String>,
    Query(print): Query<Print>,
) -> Result<Response, Refused> {
    let wanted = name.clone();
    let bytes = work(&app, &app.lanes.print, move |app| {
        app.printed(&wanted, &print)
    });
    Ok(file("application/pdf", &name, bytes.await?))
}

async fn table(State(app): Own, Query(which): Query<Which>) -> Result<Response, Refused> {
    let bytes = work(&app, &app.lanes.print, move |app| app.table(&which)).await?;
    Ok(file("text/csv; charset=utf-8", "verdicts.csv", bytes))
}

async fn boat_file(State(app): Own) -> Result<Response, Refused> {
    let bytes = work(&app, &app.lanes.print, App::file).await?;
    Ok(file("application/toml", "boat.toml", bytes))
}

/// Only this computer takes the whole folder: what lies in it beside the boat file may be anybody's.
async fn folder(
    State(app): Own,
    Extension(from): Extension<Asker>,
    Query(print): Query<Print>,
) -> Result<Response, Refused> {
    desk_only(from)?;
    let (name, bytes) = work(&app, &app.lanes.print, move |app| app.folder(&print)).await?;
    Ok(file("application/zip", &name, bytes))
}

async fn boats_told() -> Json<Boats> {
    Json(boats::boats())
}

/// Only this computer begins another boat: it writes a folder here and closes the one that all look at.
async fn begin(
    State(app): Own,
    Extension(from): Extension<Asker>,
    Sent(begin): Sent<BeginAsk>,
) -> Answer<Page> {
    desk_only(from)?;
    work(&app, &app.lanes.edit, move |app| app.begin(&begin)).await?;
    // No arrangement is named: a new boat has her own.
    written(&app, Which::default()).await
}

async fn share(State(app): Own, Extension(from): Extension<Asker>) -> Answer<Share> {
    Ok(Json(app.share(from.desk)?))
}

/// Only this computer hands the page on, and ends that.
fn desk_only(from: Asker) -> Result<(), Refused> {
    if from.desk {
        Ok(())
    } else {
        Err(Refused::forbidden(
            "Only the computer that Hosewright runs on can do that.",
        ))
    }
}

async fn new_key(State(app): Own, Extension(from): Extension<Asker>) -> Answer<Share> {
    desk_only(from)?;
    app.new_key()?;
    app.hang_up();
    Ok(Json(app.share(true)?))
}

async fn end_sharing(State(app): Own, Extension(from): Extension<Asker>) -> Answer<Share> {
    desk_only(from)?;
    app.end_sharing();
    app.hang_up();
    Ok(Json(app.share(true)?))
}
