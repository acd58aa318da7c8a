//! News for pages that listen: the number of the file's change, and why there is one.

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::Extension;
use axum::extract::State;
use axum::response::IntoResponse;
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::{StreamExt as _, stream};
use tokio::sync::broadcast::error::RecvError;

use super::App;
use super::guard::Asker;
use super::refused::Refused;
use crate::api::{News, NewsWhy};

/// How often a silent line is shown to be alive, by a comment. The page counts a line dead after 40 s without a byte, so
/// that two of them may be late.
const ALIVE: Duration = Duration::from_secs(15);

impl App {
    /// Tells everybody who listens.
    pub(crate) fn tell(&self, why: NewsWhy) {
        let number = self.desk().number;
        // Where nobody listens, nobody is told.
        let _ = self.news.send(News { number, why });
    }
}

/// The line of news. One to a phone ends when phones are hung up on: its key may open nothing any more.
pub(super) async fn events(
    State(app): State<Arc<App>>,
    Extension(from): Extension<Asker>,
) -> Result<impl IntoResponse, Refused> {
    let place = Arc::clone(&app.listening)
        .try_acquire_owned()
        .map_err(|_| Refused::busy("Too many pages listen already: close one."))?;
    let news = app.news.subscribe();
    let line = stream::unfold((news, place), |(mut news, place)| async move {
        loop {
            match news.recv().await {
                Ok(one) => {
                    let data = serde_json::to_string(&one).unwrap_or_default();
                    let event = Event::default().data(data);
                    return Some((Ok::<_, Infallible>(event), (news, place)));
                }
                // What was missed is in what follows: the last number is the one that counts.
                Err(RecvError::Lagged(_)) => {}
                Err(RecvError::Closed) => return None,
            }
        }
    });
    let mut hung_up = app.hung_up.subscribe();
    let end = async move {
        if from.desk || hung_up.changed().await.is_err() {
            std::future::pending().await
        }
    };
    let line = line.take_until(Box::pin(end));
    Ok(Sse::new(line).keep_alive(KeepAlive::new().interval(ALIVE)))
}
