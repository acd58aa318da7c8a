//! `schema`: what a document may hold, for editors and programs.

use crate::api;
use crate::cli::Document;
use crate::fault::Exit;
use crate::run::Outcome;

/// Runs it.
pub fn run(document: Document) -> Outcome {
    Outcome::said(text(document), Exit::Sound)
}

/// The schema as printed and as kept in `docs/`.
pub fn text(document: Document) -> String {
    match document {
        Document::Boat => boat::schema_json(),
        Document::Check => api::schema_of::<api::Check>(),
        Document::Fit => api::schema_of::<api::Fit>(),
        Document::Fill => api::schema_of::<api::Fill>(),
        Document::Salt => api::schema_of::<api::Salt>(),
        Document::Thread => api::schema_of::<api::Thread>(),
        Document::Survey => api::schema_of::<api::Survey>(),
        Document::Circuit => api::schema_of::<api::Circuit>(),
        Document::Route => api::schema_of::<api::Route>(),
        Document::Flow => api::schema_of::<api::Flow>(),
        Document::Order => api::schema_of::<api::Order>(),
        Document::Sheets => api::schema_of::<api::Sheets>(),
        Document::Mend => api::schema_of::<api::Mend>(),
        Document::Marks => api::schema_of::<api::Marks>(),
        Document::Page => api::schema_of::<api::Page>(),
        Document::Fault => api::schema_of::<api::Refusal>(),
    }
}
