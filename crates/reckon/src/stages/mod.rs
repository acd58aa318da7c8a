//! One module a stage of the job. A stage never imports another.
