//! The page's server: one boat file on the desk, on this computer alone unless it is asked to share.
//!
//! Whatever reckons runs on a thread of its own, one at a time for each kind of call, with a limit of time; whatever
//! goes wrong in it is answered in one sentence. Nothing is sent anywhere.

mod answers;
mod assets;
mod bay;
mod boats;
mod clock;
mod desk;
mod draw;
mod entries;
mod events;
mod export;
mod guard;
mod history;
mod keep;
mod keys;
mod label;
mod lanes;
mod page;
mod refused;
mod routes;
mod scan;
mod share;
mod stages;
mod subjects;
mod survey;
mod tidings;
mod trial;
mod values;

use std::collections::BTreeSet;
use std::io::Write as _;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpListener};
use std::path::PathBuf;
use std::pin::pin;
use std::sync::{Arc, Mutex, MutexGuard};
use std::time::Duration;

use futures_util::future::select;
use reckon::Memo;
use tokio::sync::{Semaphore, broadcast, watch};

use self::answers::lock;
use self::desk::Desk;
use self::keys::Key;
use self::lanes::Lanes;
use self::refused::Refused;
use self::share::Sharing;
use self::stages::Writer;
use self::survey::Ranked;
use crate::api::{News, Page};
use crate::fault::Fault;

pub use boats::BeginAsk;
pub use desk::Edit;
pub use draw::{LoopQuery, StripQuery};
pub use entries::{EntryBy, SentEntry};
pub use keep::KeepAsk;
pub use routes::{EditsAsk, EntriesAsk, SettleAsk, StepAsk, router};
pub use trial::TrialAsk;
pub use values::{ReadingAsk, Units};

/// The port that is taken where none is named and it is free, so that a browser knows the page again.
const PORT: u16 = 4177;
/// How often the file is looked at.
const LOOK: Duration = Duration::from_millis(300);
/// Pages that may listen for news at once.
const LISTENING: usize = 32;
/// Room of a thread's stack [bytes]: as much as the first thread of a program usually has.
const STACK: usize = 8 << 20;

/// How the server is started.
#[derive(Clone, Debug)]
pub struct Options {
    /// The folder that new boats go into.
    pub home: PathBuf,
    /// The boat file, where there is one.
    pub boat: Option<PathBuf>,
    /// The port; one that is free where none is named.
    pub port: Option<u16>,
    /// Whether a browser is opened.
    pub open: bool,
    /// Whether the boat's network is answered too.
    pub share: bool,
}

/// All that the server holds.
#[derive(Debug)]
pub struct App {
    /// The folder that new boats go into.
    home: PathBuf,
    port: u16,
    desk: Mutex<Desk>,
    /// What was reckoned before, for the verdicts that follow an edit at once.
    prompt: Mutex<Memo>,
    /// The same for all of them.
    all: Mutex<Memo>,
    /// What is being settled.
    settling: Mutex<BTreeSet<(u64, Option<String>)>>,
    /// What to measure next.
    ranked: Mutex<Option<Arc<Ranked>>>,
    /// A scan that was looked at and is not laid in yet.
    scan: Mutex<scan::Slot>,
    /// Entries that were taken.
    taken: Mutex<BTreeSet<String>>,
    /// The key of this computer's own page.
    key: Key,
    sharing: Mutex<Option<Sharing>>,
    lanes: Lanes,
    news: broadcast::Sender<News>,
    listening: Arc<Semaphore>,
    /// How often phones were hung up on; lines of news to them end with each.
    hung_up: watch::Sender<u64>,
    /// The name of this run, by which pages of another run are told.
    run: String,
}

impl App {
    /// A server that is about to answer at a port; with an address it answers the boat's network too.
    ///
    /// # Errors
    /// Where the boat file can't be read at all. A file with faults can be opened: the page tells them.
    pub fn new(
        home: PathBuf,
        boat: Option<PathBuf>,
        port: u16,
        share: Option<IpAddr>,
    ) -> Result<Arc<Self>, Fault> {
        let fresh = || {
            Key::fresh()
                .map_err(|error| Fault::Flags(format!("The system gives no random key: {error}.")))
        };
        let sharing = match share {
            Some(address) => Some(Sharing::of(address, fresh()?)),
            None => None,
        };
        let mut desk = Desk::default();
        if let Some(path) = boat {
            desk.open(path)?;
        }
        let (news, _) = broadcast::channel(64);
        Ok(Arc::new(Self {
            home,
            port,
            desk: Mutex::new(desk),
            prompt: Mutex::default(),
            all: Mutex::default(),
            settling: Mutex::default(),
            ranked: Mutex::default(),
            scan: Mutex::default(),
            taken: Mutex::default(),
            key: fresh()?,
            sharing: Mutex::new(sharing),
            lanes: Lanes::default(),
            news,
            listening: Arc::new(Semaphore::new(LISTENING)),
            hung_up: watch::Sender::default(),
            run: fresh()?.told().to_owned(),
        }))
    }

    fn desk(&self) -> MutexGuard<'_, Desk> {
        lock(&self.desk)
    }

    /// Looks at the file on the disk now, and takes in what has changed outside.
    pub fn look_now(&self) {
        self.look();
    }
}

/// The answer to be sent, and its settling begun behind it; where somebody holds an answer already, only what differs.
async fn answered(
    app: &Arc<App>,
    arrangement: Option<String>,
    writer: Option<Writer>,
) -> Result<Page, Refused> {
    let inner = Arc::clone(app);
    let job = move || inner.page(arrangement.as_deref(), writer.as_ref());
    let (page, answers) = app.lanes.page.run(job).await?;
    if let Some(answers) = answers {
        app.settle_later(&answers);
    }
    Ok(page)
}

/// Serves until it is stopped.
///
/// # Errors
/// Where the boat file can't be read or the port can't be had.
pub fn run(options: Options) -> Result<(), Fault> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .thread_stack_size(STACK)
        .enable_all()
        .build()
        .map_err(|error| Fault::Flags(format!("The server can't be started: {error}.")))?;
    let done = runtime.block_on(serve(options));
    // What is being written is written; what is only being reckoned is not waited for.
    runtime.shutdown_timeout(Duration::from_secs(2));
    done
}

async fn serve(options: Options) -> Result<(), Fault> {
    let address = if options.share {
        let own = share::own_address().ok_or_else(|| {
            Fault::Flags("This computer is on no network, so there is nobody to share with.".into())
        })?;
        Some(own)
    } else {
        None
    };
    let (listener, port) = listen(options.share, options.port)?;
    let app = App::new(options.home, options.boat, port, address)?;
    let listener = tokio::net::TcpListener::from_std(listener)
        .map_err(|error| Fault::Flags(format!("The server can't be started: {error}.")))?;
    tokio::spawn(watch(Arc::clone(&app)));
    let service = router(Arc::clone(&app)).into_make_service_with_connect_info::<SocketAddr>();
    let url = format!("http://127.0.0.1:{port}/");
    println!("ready {url}");
    if let Some(address) = address {
        println!(
            "shared http://{} on the boat's network: the page shows the code to scan",
            SocketAddr::new(address, port)
        );
    }
    // Whoever waits for that line reads it now.
    let _ = std::io::stdout().flush();
    if options.open {
        tokio::task::spawn_blocking(move || {
            if opener::open(&url).is_err() {
                println!("No browser could be opened: open {url} in one.");
            }
        });
    }
    let server = pin!(axum::serve(listener, service).into_future());
    let stopped = pin!(tokio::signal::ctrl_c());
    // Lines of news never end by themselves, so that nothing is waited for here.
    let _ = select(server, stopped).await;
    Ok(())
}

/// The port that was named, or the usual one, or any that is free.
fn listen(share: bool, port: Option<u16>) -> Result<(TcpListener, u16), Fault> {
    let ip = if share {
        Ipv4Addr::UNSPECIFIED
    } else {
        Ipv4Addr::LOCALHOST
    };
    let listener = match port {
        Some(port) => TcpListener::bind((ip, port)),
        None => TcpListener::bind((ip, PORT)).or_else(|_| TcpListener::bind((ip, 0))),
    };
    let ready = listener.and_then(|listener| {
        listener.set_nonblocking(true)?;
        let port = listener.local_addr()?.port();
        Ok((listener, port))
    });
    ready.map_err(|error| {
        let at = port.map_or_else(String::new, |port| format!(" {port}"));
        Fault::Flags(format!(
            "The port{at} can't be had: {}. Name another with --port.",
            error.to_string().to_lowercase()
        ))
    })
}

/// Looks at the file again and again.
async fn watch(app: Arc<App>) {
    loop {
        tokio::time::sleep(LOOK).await;
        let inner = Arc::clone(&app);
        let looked = app
            .lanes
            .look
            .run(move || {
                inner.look();
                inner.scan_forget(scan::WAITS);
                Ok(())
            })
            .await;
        if let Err(refused) = looked {
            tracing::debug!(why = refused.wrong.why, "could not look");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_port_of_nought_is_any_that_is_free() {
        let (one, first) = listen(false, Some(0)).unwrap();
        let (other, second) = listen(false, Some(0)).unwrap();
        assert!(first != 0 && second != 0 && first != second);
        assert_eq!(one.local_addr().unwrap().port(), first);
        assert!(other.local_addr().unwrap().ip().is_loopback());
    }
}
