//! Runs with their pieces, and the node whose pressure is kept.

use boat::{Carries, PieceKind, RunEnd, ThingKind, Told};
use quantity::Quantity;

use super::{Edge, Joint, Maker, Tagged, si};
use crate::flow::pieces::lay;
use crate::stages::circuit::plan::Site;

impl<'a> Maker<'a, '_> {
    pub(super) fn end(&mut self, end: &'a RunEnd) -> Option<usize> {
        match end {
            RunEnd::Thing { .. } => {
                let (thing, name) = self.facts.end(end)?;
                if self.blanked(thing, name) {
                    return None;
                }
                Some(self.spigot(thing, name))
            }
            RunEnd::Tee { run, piece } => {
                let run = self.facts.run(run)?;
                Some(self.node(Site::Run(run), piece))
            }
        }
    }

    pub(super) fn run(&mut self, at: usize) {
        let own = &self.facts.runs[at];
        let run: &'a boat::Run = own.run;
        if !matches!(run.carries, Carries::Coolant | Carries::Vent) {
            return;
        }
        let place = own.place.clone();
        let Some(laid) = lay(self.desk, run, &place) else {
            return;
        };
        let (Some(from), Some(to)) = (self.end(&run.from), self.end(&run.to)) else {
            return;
        };
        let Told::Given(pieces) = &run.way else {
            return;
        };
        let site = Site::Run(at);
        let mark = &own.mark;
        let whole: f64 = laid.iter().map(|piece| piece.volume).sum();
        self.volumes
            .push((run.key.clone(), Some(whole), "by bore and length".into()));
        let first = laid.first().and_then(|piece| piece.bore);
        let last = laid.last().and_then(|piece| piece.bore);
        let hose = self.rating(pieces);
        let rating = [&run.from, &run.to]
            .into_iter()
            .filter_map(|end| {
                let (thing, _) = self.facts.end(end)?;
                let own = self.facts.things[thing].thing;
                let works = own.detail.duty.works_at.given()?;
                Some((works.value.si(), own.key.clone()))
            })
            .chain(hose)
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let place_of = |end: &str, number: &str| {
            (
                format!("{}.{end}", run.key),
                format!("{} ({mark}{number})", run.key),
            )
        };
        let main = self.plan.any(site, &self.plan.on_main);
        let suction = main
            && pieces.iter().all(|piece| {
                let node = self.plan.find(site, &piece.name);
                node.is_some_and(|node| self.plan.suction[node])
            });
        let (name, title) = place_of("from", "1");
        self.places.push(Joint {
            name,
            title,
            height: self.nodes[from].height,
            bore: first,
            node: from,
            main,
            suction,
            rated: rating.clone(),
        });
        let mut before = from;
        for (i, (piece, own)) in pieces.iter().zip(laid).enumerate() {
            let last_one = i + 1 == pieces.len();
            let tee = matches!(piece.kind, PieceKind::Tee { .. });
            let shut = piece.kind.can_be_shut()
                && self
                    .facts
                    .shut
                    .contains(&format!("{}.{}", run.key, piece.name));
            if shut {
                self.standing
                    .push(format!("{}.{} is shut.", run.key, piece.name));
            }
            let item = self.item(
                format!("{}.{}", run.key, piece.name),
                format!("{} of {} ({mark})", piece.name, run.key),
                format!("{place}.way[{i}]"),
            );
            let row = &mut self.items[item];
            (row.bore, row.stuff, row.soft) = (own.bore, own.stuff, own.soft);
            row.run.clone_from(&run.key);
            row.suction = self
                .plan
                .find(site, &piece.name)
                .is_some_and(|node| self.plan.suction[node] && self.plan.on_main[node]);
            let parts: Vec<Tagged> = own.parts.into_iter().map(|part| (part, item)).collect();
            let next = if tee {
                self.node(site, &piece.name)
            } else if last_one {
                to
            } else {
                self.node(site, &format!("{}>", piece.name))
            };
            if shut {
                // What lies behind a shut valve hangs on its other side.
                before = next;
                continue;
            }
            self.edges.push(Edge {
                from: before,
                to: next,
                parts,
            });
            if let PieceKind::Tee { sizes, .. } = &piece.kind {
                let size = |at: usize| sizes[at].named().map(|named| named.as_length().si());
                let bore = own.bore.unwrap_or(0.03);
                let branch = size(2).unwrap_or(bore);
                // The edge that follows is the next one to be made.
                self.tees.push((
                    next,
                    bore,
                    (branch / bore).min(1.0),
                    [self.edges.len() - 1, self.edges.len()],
                ));
                self.nodes[next].kept = true;
            }
            if tee && last_one {
                self.edges.push(Edge {
                    from: next,
                    to,
                    parts: Vec::new(),
                });
            }
            before = next;
        }
        let (name, title) = place_of("to", "");
        self.places.push(Joint {
            name,
            title,
            height: self.nodes[to].height,
            bore: last,
            node: to,
            main,
            suction,
            rated: rating,
        });
    }

    /// What the hose of a run stands, by the owner's shelf [Pa].
    pub(super) fn rating(&self, pieces: &[boat::Piece]) -> Option<(f64, String)> {
        let stock = &self.desk.arranged.boat.stock.hose;
        pieces
            .iter()
            .filter_map(|piece| match &piece.kind {
                PieceKind::Hose { size, build } => {
                    let own = stock.iter().find(|own| {
                        Some(own.size) == size.named() && (own.build == *build || build.is_none())
                    })?;
                    let (works, _) = own.works_at.as_ref()?;
                    Some((works.value.si(), format!("hose {}", own.size)))
                }
                _ => None,
            })
            .min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// The node whose pressure is kept, and the height of the water's surface there.
    pub(super) fn reference(&mut self) -> Option<f64> {
        let facts = self.facts;
        let linked = |maker: &Self, node: usize| {
            maker
                .edges
                .iter()
                .any(|edge| edge.from == node || edge.to == node)
        };
        let tank = (0..facts.things.len()).find(|thing| {
            facts.things[*thing].is(ThingKind::HeaderTank)
                && self
                    .index
                    .get(&(Site::Thing(*thing), "body".into()))
                    .is_some_and(|node| linked(self, *node))
        });
        let (thing, node) = match tank {
            Some(thing) => (thing, self.node(Site::Thing(thing), "body")),
            None => {
                let engine = (0..facts.things.len()).find(|thing| {
                    self.index
                        .contains_key(&(Site::Thing(*thing), "header<".into()))
                });
                let Some(engine) = engine else {
                    self.desk.miss(
                        "The circuit has no header tank that the file knows of, so that no pressure in it is known.".into(),
                        "things".into(),
                        "Write the header tank: a thing of its own, or `header` among the engine's paths.",
                    );
                    return None;
                };
                (engine, self.node(Site::Thing(engine), "header<"))
            }
        };
        let own = &facts.things[thing];
        let surface = si(&own.cold_mark).or_else(|| si(&own.cap_h));
        let Some(surface) = surface else {
            self.desk.miss(
                format!("How high the water stands in the header tank of {} is not measured.", own.key()),
                format!("{}.cold_mark", own.place),
                "Measure the height of the mark to which it is filled cold, with a water-filled tube.",
            );
            return None;
        };
        self.nodes[node].fixed = true;
        self.nodes[node].kept = true;
        self.nodes[node].height = Some(surface);
        Some(surface)
    }
}
