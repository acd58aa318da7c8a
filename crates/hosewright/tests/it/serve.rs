//! The server, asked without a socket: what the page reads and writes.

use std::net::SocketAddr;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::ConnectInfo;
use axum::http::{HeaderMap, Request, StatusCode};
use hosewright::serve::{App, router};
use serde_json::{Value, json};
use tokio::runtime::Runtime;
use tower::ServiceExt as _;

use crate::bench::demo_copy;

pub(crate) const PORT: u16 = 4177;
pub(crate) const HOST: &str = "127.0.0.1:4177";

/// An answer.
#[derive(Debug)]
pub(crate) struct Told {
    pub(crate) status: StatusCode,
    pub(crate) headers: HeaderMap,
    pub(crate) bytes: Vec<u8>,
}

impl Told {
    pub(crate) fn text(&self) -> String {
        String::from_utf8_lossy(&self.bytes).into_owned()
    }
    #[track_caller]
    pub(crate) fn json(&self) -> Value {
        serde_json::from_slice(&self.bytes)
            .unwrap_or_else(|error| panic!("{error}: {}", self.text()))
    }
    /// The answer of a call that went well.
    #[track_caller]
    pub(crate) fn good(&self) -> Value {
        assert_eq!(self.status, 200, "{}", self.text());
        self.json()
    }
}

/// A server with a boat of its own.
pub(crate) struct Bench {
    pub(crate) folder: tempfile::TempDir,
    pub(crate) app: Arc<App>,
    router: Router,
    runtime: Runtime,
}

impl Bench {
    pub(crate) fn of(folder: tempfile::TempDir, share: bool) -> Self {
        let file = folder.path().join("boat.toml");
        let address = share.then(|| [192, 168, 1, 20].into());
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(2)
            .enable_all()
            .build()
            .unwrap();
        let home = folder.path().to_owned();
        let app = App::new(home, file.exists().then_some(file), PORT, address).unwrap();
        Self {
            router: router(Arc::clone(&app)),
            folder,
            app,
            runtime,
        }
    }

    pub(crate) fn new() -> Self {
        Self::of(demo_copy(), false)
    }

    pub(crate) fn file(&self) -> PathBuf {
        self.folder.path().join("boat.toml")
    }

    pub(crate) fn text(&self) -> String {
        std::fs::read_to_string(self.file()).unwrap()
    }

    /// Writes the file as another program would, and has the server look.
    pub(crate) fn outside(&self, text: &str) {
        std::fs::write(self.file(), text).unwrap();
        self.app.look_now();
    }

    /// Any request, from anywhere.
    pub(crate) fn ask(&self, from: [u8; 4], mut request: Request<Body>) -> Told {
        let peer: SocketAddr = (from, 50_000).into();
        request.extensions_mut().insert(ConnectInfo(peer));
        self.runtime.block_on(async {
            let answer = self.router.clone().oneshot(request).await.unwrap();
            let (head, body) = answer.into_parts();
            let bytes = to_bytes(body, 1 << 26).await.unwrap().to_vec();
            Told {
                status: head.status,
                headers: head.headers,
                bytes,
            }
        })
    }

    pub(crate) fn get(&self, path: &str) -> Told {
        let request = Request::get(path).header("host", HOST);
        self.ask([127, 0, 0, 1], request.body(Body::empty()).unwrap())
    }

    /// The key of this computer's page, out of the page.
    pub(crate) fn key(&self) -> String {
        let page = self.get("/").text();
        let (_, rest) = page
            .split_once("<meta name=\"hosewright-key\" content=\"")
            .expect("the page has the key");
        rest.split('"').next().unwrap().to_owned()
    }

    pub(crate) fn post(&self, path: &str, sent: &Value) -> Told {
        let request = Request::post(path)
            .header("host", HOST)
            .header("origin", format!("http://{HOST}"))
            .header("content-type", "application/json")
            .header("x-hosewright-key", self.key());
        self.ask(
            [127, 0, 0, 1],
            request.body(Body::from(sent.to_string())).unwrap(),
        )
    }

    pub(crate) fn page(&self) -> Value {
        self.get("/api/page").good()
    }

    pub(crate) fn edit(&self, number: u64, place: &str, to: &str) -> Told {
        let edits = json!([{ "place": place, "to": to }]);
        let sent = json!({ "number": number, "label": "an edit", "edits": edits });
        self.post("/api/edits", &sent)
    }
}

/// A text as it may stand in a query.
pub(crate) fn query(text: &str) -> String {
    text.bytes().map(|byte| format!("%{byte:02X}")).collect()
}

fn grade(page: &Value, id: &str) -> String {
    let verdicts = page["verdicts"].as_array().unwrap();
    let found = verdicts.iter().find(|verdict| verdict["id"] == id);
    found.unwrap()["grade"].as_str().unwrap().to_owned()
}

const CLIP: &str = "joints.\"cold.to\".clip";

#[test]
fn the_page_tells_all_that_check_tells() {
    let bench = Bench::new();
    let page = bench.page();
    assert_eq!(page["schema"], "hosewright.page/1");
    assert_eq!(page["number"], 1);
    assert_eq!(page["boat"]["name"], "Dunlin");
    assert_eq!(page["arrangement"], "after");
    assert_eq!(page["chapters"].as_array().unwrap().len(), 13);
    let verdicts = page["verdicts"].as_array().unwrap();
    assert_eq!(verdicts[0]["grade"], "unsound");
    for grade in ["sound", "unmeasured", "marginal", "unsound"] {
        let count = verdicts.iter().filter(|verdict| verdict["grade"] == grade);
        assert_eq!(page["counts"][grade], count.count(), "{grade}");
    }
    // What is unsound first, and an edit that mends it.
    assert!(!page["next"][0]["edit"].is_null(), "{}", page["next"][0]);
    let clip = verdicts
        .iter()
        .find(|verdict| verdict["id"] == "fit.cold.to.clip")
        .unwrap();
    assert_eq!(
        (&clip["mark"], &clip["key"]),
        (&json!("B6"), &json!("cold.to"))
    );
    assert_eq!(clip["chapter"], "fit");
    let line = &clip["on_line"]["at"];
    assert!(line["value"].as_f64() > line["high"].as_f64(), "{line}");
    let words = clip["on_line"]["words"]["imperial"].as_str().unwrap();
    let high = clip["on_line"]["high"]["imperial"].as_str().unwrap();
    assert!(words.ends_with(high) && words.len() > high.len(), "{words}");
    // The chance is worded here, and only where there is one.
    for verdict in verdicts {
        let told = verdict["chance_text"]["metric"].as_str();
        assert_eq!(told.is_some(), verdict["chance"].is_number(), "{verdict}");
        // What is as good as sure and not sound is so by something else, and that is said.
        let worse = told.is_some_and(|told| told.contains(" not by that chance"));
        assert!(told.is_none_or(|told| {
            told.starts_with("holds ") && (worse || told.ends_with(" in 100"))
        }));
        assert!(
            !worse || verdict["chance"].as_f64().unwrap() >= 0.99,
            "{verdict}"
        );
    }
    let marks = page["marks"].as_array().unwrap();
    let mark = marks.iter().find(|mark| mark["key"] == "cold.to").unwrap();
    assert_eq!(
        (&mark["kind"], &mark["grade"]),
        (&json!("joint"), &json!("unsound"))
    );
    let cruise = page["states"]
        .as_array()
        .unwrap()
        .iter()
        .find(|state| state["key"] == "cruise");
    assert!(!cruise.unwrap()["duties"].as_array().unwrap().is_empty());
}

#[test]
fn all_verdicts_are_settled_behind_the_first_answer() {
    let bench = Bench::new();
    let first = bench.page();
    assert_eq!(first["settled"], false);
    let waits = |page: &Value| {
        let verdicts = page["verdicts"].as_array().unwrap();
        let old = verdicts
            .iter()
            .filter(|verdict| verdict["as_of"] != page["number"]);
        old.count()
    };
    assert!(waits(&first) > 0);
    let mut page = first;
    for _ in 0..600 {
        if page["settled"] == true {
            break;
        }
        std::thread::sleep(Duration::from_millis(50));
        page = bench.page();
    }
    assert_eq!(page["settled"], true);
    assert_eq!(waits(&page), 0);
}

#[test]
fn an_edit_keeps_every_comment_and_taking_it_back_gives_the_bytes_back() {
    let bench = Bench::new();
    let before = bench.text();
    let page = bench.page();
    assert_eq!(grade(&page, "fit.cold.to.clip"), "unsound");
    let after = bench.edit(1, CLIP, "\"worm 32-50 316\"").good();
    assert_eq!(after["number"], 2);
    assert_eq!(grade(&after, "fit.cold.to.clip"), "sound");
    assert_eq!(
        bench.text(),
        before.replace("\"t-bolt 40-43\"", "\"worm 32-50 316\"")
    );
    assert_eq!(after["history"]["back"], "an edit");

    let back = bench.post("/api/back", &json!({ "number": 2 })).good();
    assert_eq!(bench.text(), before);
    assert_eq!(grade(&back, "fit.cold.to.clip"), "unsound");
    assert_eq!(back["history"]["forth"], "an edit");
    let forth = bench.post("/api/forth", &json!({ "number": 3 })).good();
    assert_eq!(grade(&forth, "fit.cold.to.clip"), "sound");
    let again = bench.post("/api/forth", &json!({ "number": 4 }));
    assert_eq!(again.status, 409);
}

#[test]
fn what_would_not_read_is_not_written() {
    let bench = Bench::new();
    let before = bench.text();
    let told = bench.edit(1, CLIP, "\"wrm 32-50\"");
    assert_eq!(told.status, 422);
    let wrong = told.json();
    assert!(
        wrong["why"]
            .as_str()
            .unwrap()
            .starts_with("Nothing is written"),
        "{wrong}"
    );
    assert_eq!(wrong["place"]["line"], 109);
    assert_eq!(bench.edit(1, CLIP, "worm").status, 422);
    assert_eq!(bench.edit(1, "a..b", "1").status, 422);
    assert_eq!(bench.text(), before);
    assert_eq!(bench.page()["number"], 1);
}

#[test]
fn a_value_changed_outside_is_never_overwritten() {
    let bench = Bench::new();
    let theirs = bench.text().replace("\"t-bolt 40-43\"", "\"t-bolt 43-47\"");
    // The server has not looked yet: the disk says it.
    std::fs::write(bench.file(), &theirs).unwrap();
    let told = bench.edit(1, CLIP, "\"worm 32-50 316\"");
    assert_eq!(told.status, 409, "{}", told.text());
    let both = told.json();
    assert_eq!(both["found"], "\"t-bolt 43-47\"");
    assert_eq!(both["expected"], "\"worm 32-50 316\"");
    assert_eq!(bench.text(), theirs);
    let page = bench.page();
    assert_eq!(page["number"], 2);
    assert_eq!(page["changed"][0]["place"], CLIP);
    // Nothing is taken back behind it.
    assert_eq!(page["history"]["back"], Value::Null);
    assert_eq!(bench.post("/api/back", &json!({ "number": 2 })).status, 409);

    // Who had seen the old one is told so too once the server has looked; who touches another value is not.
    assert_eq!(bench.edit(1, CLIP, "\"worm 32-50 316\"").status, 409);
    assert_eq!(bench.edit(1, "joints.\"cold.to\".clips", "2").status, 200);
    assert_eq!(bench.edit(3, CLIP, "\"worm 32-50 316\"").status, 200);
}

#[test]
fn a_file_that_does_not_read_locks_the_desk_and_frees_it_by_itself() {
    let bench = Bench::new();
    let good = bench.text();
    let first = bench.page();
    bench.outside(&good.replace("version = 1", "version = = 1"));
    let page = bench.page();
    assert_eq!(page["locked"]["line"], 3, "{}", page["locked"]);
    assert!(!page["locked"]["since"].as_str().unwrap().is_empty());
    assert_eq!(page["counts"], first["counts"]);
    assert_eq!(bench.edit(1, CLIP, "\"worm 32-50 316\"").status, 423);
    // Get home still works.
    assert!(
        !bench.get("/api/card").good()["cautions"]
            .as_array()
            .unwrap()
            .is_empty()
    );
    bench.outside(&good);
    let page = bench.page();
    assert_eq!(
        (&page["locked"], &page["number"]),
        (&Value::Null, &json!(1))
    );
    assert_eq!(bench.edit(1, CLIP, "\"worm 32-50 316\"").status, 200);
}

fn entry(id: &str, place: &str, text: &str, saw: Option<&str>) -> Value {
    json!({ "id": id, "place": place, "text": text, "instrument": null, "note": null,
            "at": "2027-03-14T10:00:00Z", "saw": saw })
}

#[test]
fn readings_of_another_boat_wait() {
    let bench = Bench::new();
    let before = bench.text();
    let mut one = entry("other", "engine.spigots.vent.h", "812", None);
    one["boat"] = json!("elsewhere/boat.toml");
    let said = bench.post("/api/entries", &json!({ "entries": [one] }));
    assert_eq!(said.status, 412);
    assert_eq!(bench.text(), before);
    let boat = bench.page()["boat"].clone();
    let own = format!(
        "{}/{}",
        boat["folder"].as_str().unwrap(),
        boat["file"].as_str().unwrap()
    );
    let mut one = entry("own", "engine.spigots.vent.h", "812", None);
    one["boat"] = json!(own);
    assert_eq!(
        bench
            .post("/api/entries", &json!({ "entries": [one] }))
            .status,
        200
    );
    assert_ne!(bench.text(), before);
}

#[test]
fn a_written_page_is_about_the_arrangement_of_the_writer() {
    let bench = Bench::new();
    // Another page looks at another arrangement.
    assert_eq!(bench.get("/api/page?arrangement=before").status, 200);
    let edit = json!({ "number": 1, "label": "clip",
        "edits": [{ "place": CLIP, "to": "\"worm 32-50 316\"" }] });
    let page = bench.post("/api/edits?arrangement=after", &edit).good();
    assert_eq!(page["arrangement"], "after");
}

#[test]
fn a_reading_is_taken_once_and_none_is_lost() {
    let bench = Bench::new();
    let place = "engine.spigots.vent.h";
    let send = |entries: Value| {
        bench
            .post("/api/entries", &json!({ "entries": entries }))
            .good()
    };
    let taken = send(json!([entry(
        "a",
        "engine.spigots.heat-out.bead_width",
        "3.5 mm",
        None
    )]));
    assert_eq!(taken["outcomes"][0]["kept"], true);
    assert!(bench.text().contains("bead_width = \"3.5 mm\""));
    let written = bench.text();
    // Sent again, with whatever text: the name was taken.
    let again = send(json!([entry(
        "a",
        "engine.spigots.heat-out.bead_width",
        "9 mm",
        None
    )]));
    assert_eq!(again["outcomes"][0]["kept"], true);
    assert_eq!(bench.text(), written);

    // It saw what stands there: it takes its place.
    send(json!([entry("b", place, "370 mm", Some("365"))]));
    assert!(bench.text().contains("h = \"370 mm\""), "{}", bench.text());
    // It saw something else: both stand.
    let told = send(json!([entry("c", place, "380 mm", Some("365"))]));
    assert_eq!(told["outcomes"][0]["kept"], true);
    assert!(bench.text().contains("h = [\"370 mm\", \"380 mm\"]"));
    let survey = bench.get("/api/survey").good();
    let pair = &survey["pairs"][0];
    assert_eq!(
        (&pair["place"], &pair["readings"]),
        (&json!(place), &json!(["370 mm", "380 mm"]))
    );
    // A third one waits, and says why.
    let third = send(json!([entry("d", place, "390 mm", Some("365"))]));
    assert_eq!(third["outcomes"][0]["kept"], false);

    let number = bench.page()["number"].as_u64().unwrap();
    let settle = json!({ "number": number, "place": place, "keep": "380 mm" });
    bench.post("/api/settle", &settle).good();
    // A list of two is no pair of readings: nothing of it is chosen.
    let list = json!({ "number": number + 1, "place": "boat.use", "keep": "sea" });
    assert_eq!(bench.post("/api/settle", &list).status, 422);
    assert!(bench.text().contains("h = \"380 mm\""));
}

#[test]
fn an_entry_that_can_not_be_read_keeps_no_other_from_it() {
    let bench = Bench::new();
    let entries = json!([
        entry("a", "engine.spigots.heat-out.bead_width", "three", None),
        entry("b", "no.such.place", "3 mm", None),
        entry("c", "engine.spigots.heat-in.bead_width", "?", None),
    ]);
    let told = bench
        .post("/api/entries", &json!({ "entries": entries }))
        .good();
    let kept: Vec<bool> = told["outcomes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|outcome| outcome["kept"].as_bool().unwrap())
        .collect();
    assert_eq!(kept, [false, false, true]);
    assert!(!told["outcomes"][0]["why"].as_str().unwrap().is_empty());
    assert!(bench.text().contains("bead_width = \"?\""));
}

#[test]
fn a_typed_value_is_read_and_nothing_is_written() {
    let bench = Bench::new();
    let before = bench.text();
    let place = "engine.spigots.out.od";
    let read = |text: &str| {
        let sent = json!({ "place": place, "text": text, "units": "metric" });
        bench.post("/api/reading", &sent).good()
    };
    let good = read("41.8 +- .2 mm");
    assert_eq!(good["ok"], true);
    assert_eq!(good["toml"], "\"41.8 +- .2 mm\"");
    assert_eq!(good["shown"], "41.8 ± 0.2 mm, caliper");
    assert_eq!(read("41.8")["toml"], "\"41.8 mm\"");
    assert!(read("40 mm")["remark"].is_string());
    let bad = read("41.8 mn");
    assert_eq!(bad["ok"], false);
    assert!(bad["why"].as_str().unwrap().contains("mn"), "{bad}");
    assert_eq!(bench.text(), before);

    let value = bench
        .get(&format!("/api/value?place={}", query(place)))
        .good();
    assert_eq!(value["toml"], "\"38.1 ± 0.1\"");
    assert_eq!(value["kind"], "measured");
    assert_eq!(value["instrument"], "caliper");
    assert_eq!(value["units"][0], "mm");
    let gone = bench.get("/api/value?place=no.such");
    assert_eq!(gone.status, 404);
    // Two spigots alike are typed in one place.
    let place = query("things.gearbox.spigots.a.od");
    let both = bench.get(&format!("/api/value?place={place}")).good();
    assert_eq!(both["place"], "things.gearbox.spigots.both.od");
}

#[test]
fn every_picture_and_list_is_answered() {
    let bench = Bench::new();
    for path in [
        "/api/strip?width=1296&form=half&chapter=flow",
        "/api/strip?width=390&form=ribbon&units=imperial&state=cruise",
        "/api/strip?width=1296&form=tall&least=0&arrangement=fallback",
        "/api/loop?width=896&height=496",
        "/api/survey",
        "/api/card",
    ] {
        assert_eq!(bench.get(path).good()["number"], 1, "{path}");
    }
    let strip = bench
        .get("/api/strip?width=1296&form=half&chapter=fit")
        .good();
    for (mark, column) in strip["marks"]
        .as_array()
        .unwrap()
        .iter()
        .zip(strip["table"]["columns"].as_array().unwrap())
    {
        assert_eq!((&mark["key"], &mark["x"]), (&column["key"], &column["x"]));
    }
    assert_eq!(bench.get("/api/flow").good()["schema"], "hosewright.flow/1");
    assert_eq!(
        bench.get("/api/order").good()["schema"],
        "hosewright.order/1"
    );
    assert_eq!(bench.get("/api/fill").good()["schema"], "hosewright.fill/1");
    assert_eq!(bench.get("/api/strip?arrangement=none").status, 404);
    assert_eq!(bench.get("/api/strip?before=none").status, 404);
    let table = bench.get("/api/export/verdicts.csv");
    assert!(
        table.text().starts_with("id,stage,subject"),
        "{}",
        table.text()
    );
    assert_eq!(bench.get("/api/export/boat.toml").text(), bench.text());
}

/// How many primitives of a class a drawing has.
fn of_class(drawing: &Value, class: &str) -> usize {
    let placed = drawing["placed"].as_array().unwrap();
    placed.iter().filter(|one| one["class"] == class).count()
}

#[test]
fn the_strip_shows_what_was_before_what_goes_under_and_what_branches_off() {
    let bench = Bench::new();
    let ask = |more: &str| {
        let path = format!("/api/strip?width=1296&form=half&chapter=flow{more}");
        bench.get(&path).good()
    };
    let plain = ask("");
    assert_eq!(of_class(&plain, "before"), 0);
    assert!(of_class(&ask("&before=before"), "before") > 0);
    // Nothing is behind itself.
    let same = ask("&arrangement=before&before=before");
    assert_eq!(of_class(&same, "before"), 0);

    assert_eq!(plain["tilts"], json!([]));
    let heeled = ask("&heel=-12");
    let tilt = &heeled["tilts"][0];
    assert_eq!(tilt["name"], "12° to port");
    let under = tilt["under"].as_array().unwrap().len();
    let says = tilt["says"].as_str().unwrap();
    let counted = match under {
        0 => "No joint goes".to_owned(),
        1 => "1 joint goes".to_owned(),
        many => format!("{many} joints go"),
    };
    assert!(says.starts_with(&counted), "{says}");

    let [from, to] = [0, 1].map(|at| plain["ends"][at].as_f64().unwrap());
    let tees = plain["tees"].as_array().unwrap();
    let tee = tees.iter().find(|tee| tee["from"].is_number()).unwrap();
    let at = tee["from"].as_f64().unwrap();
    assert!((from..=to).contains(&at), "{at}");
    let key = query(tee["key"].as_str().unwrap());
    let branch = ask(&format!("&branch={key}&level=true"));
    assert_eq!(branch["tees"], json!([]));
    assert!(!branch["marks"].as_array().unwrap().is_empty());
    assert!(branch["height"].as_f64() < plain["height"].as_f64());
}

#[test]
fn a_trial_writes_nothing() {
    let bench = Bench::new();
    let before = bench.text();
    let ask = json!({ "arrangement": "after", "state": "cruise", "sea": "28 °C", "fouling": 3 });
    let trial = bench.post("/api/trial", &ask).good();
    let sea = &trial["rows"][0];
    assert_eq!(sea["trial"]["metric"], "28 °C", "{sea}");
    assert_ne!(sea["now"], sea["trial"]);
    assert_eq!(bench.text(), before);
    for wrong in [
        json!({ "state": "no such" }),
        json!({ "state": "cruise", "sea": "warm" }),
        json!({ "state": "cruise", "load": 7 }),
        json!({ "state": "cruise", "fouling": -1 }),
    ] {
        assert_eq!(bench.post("/api/trial", &wrong).status, 422, "{wrong}");
    }
}

#[test]
fn a_boat_is_begun_in_a_folder_of_her_own() {
    let bench = Bench::of(tempfile::tempdir().unwrap(), false);
    let page = bench.page();
    assert_eq!(page["boat"], Value::Null);
    assert_eq!(bench.get("/api/strip").status, 404);
    let boats = bench.get("/api/boats").good();
    assert_eq!(boats["demos"].as_array().unwrap().len(), 3);
    assert_eq!(boats["asks"].as_array().unwrap().len(), 6);
    let demo = bench.post("/api/boats", &json!({ "demo": "wenna" })).good();
    assert_eq!(demo["boat"]["name"], "Girl Wenna");
    assert!(bench.folder.path().join("wenna/boat.toml").exists());
    // A second one goes beside the first.
    bench.post("/api/boats", &json!({ "demo": "wenna" })).good();
    assert!(bench.folder.path().join("wenna-2/boat.toml").exists());

    let answers = json!({ "name": "../../Otter", "heat": "keel", "shares": "gearbox, calorifier",
                          "hull": "fittings", "header": "apart", "power": "46 kW @ 2600 rpm plate" });
    let new = bench
        .post("/api/boats", &json!({ "answers": answers }))
        .good();
    assert_eq!(new["boat"]["name"], "../../Otter");
    assert!(bench.folder.path().join("otter/boat.toml").exists());
    assert_eq!(new["counts"]["unsound"], 0);
    assert_eq!(
        bench.post("/api/boats", &json!({ "demo": "none" })).status,
        404
    );
    assert_eq!(bench.post("/api/boats", &json!({})).status, 422);
}

#[test]
fn a_sheet_comes_as_pdf() {
    let bench = Bench::new();
    let card = bench.get("/api/sheets/card.pdf");
    assert_eq!(card.status, 200, "{}", card.text());
    assert!(card.bytes.starts_with(b"%PDF"));
    assert_eq!(bench.get("/api/sheets/none.pdf").status, 404);
    assert_eq!(bench.get("/api/sheets/..%2F..%2Fboat.toml").status, 404);
}

#[test]
fn the_page_keeps_to_its_schema() {
    use hosewright::cli::Document;
    use hosewright::commands::schema;
    let bench = Bench::new();
    let schema: Value = serde_json::from_str(&schema::text(Document::Page)).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let page = bench.page();
    let faults: Vec<String> = validator
        .iter_errors(&page)
        .map(|error| error.to_string())
        .collect();
    assert!(faults.is_empty(), "{faults:?}");
}
