//! How a long piece of work says how far it has come, and is told to stop.

/// How far a long piece of work has come, in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Bytes done.
    pub done: u64,
    /// Bytes to do.
    pub total: u64,
}

/// Called now and then during long work; answer [`std::ops::ControlFlow::Break`] to stop it.
pub type OnProgress<'a> = dyn FnMut(Progress) -> std::ops::ControlFlow<()> + Send + 'a;
