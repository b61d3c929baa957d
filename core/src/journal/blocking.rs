//! The board's blocking flash as the asynchronous one that the storage library wants.
//!
//! A blocking flash never makes a future wait, so each future is polled once, by a waker that does nothing; no executor is
//! needed.

use core::future::Future;
use core::pin::pin;
use core::task::{Context, Poll, Waker};

use embedded_storage::nor_flash::{ErrorType, NorFlash, NorFlashError, NorFlashErrorKind};
use embedded_storage_async::nor_flash as asynchronous;

/// A flash lent for the length of one call.
pub(super) struct Blocking<'f, F>(pub(super) &'f mut F);

/// Why the flash did not do what the library wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Refusal {
    /// The flash itself refused.
    Flash,
    /// The library wanted to repair, by erasing it, what it could not read. A sector is erased only where the head goes on to it.
    Repair,
}

impl NorFlashError for Refusal {
    fn kind(&self) -> NorFlashErrorKind {
        NorFlashErrorKind::Other
    }
}

/// Runs a future over [`Blocking`] flash to its end; `None` if it would wait, which it cannot.
pub(super) fn run<T>(future: impl Future<Output = T>) -> Option<T> {
    match pin!(future).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(value) => Some(value),
        Poll::Pending => None,
    }
}

impl<F> ErrorType for Blocking<'_, F> {
    type Error = Refusal;
}

impl<F: NorFlash> asynchronous::ReadNorFlash for Blocking<'_, F> {
    const READ_SIZE: usize = F::READ_SIZE;

    async fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), Refusal> {
        self.0.read(offset, bytes).map_err(|_| Refusal::Flash)
    }

    fn capacity(&self) -> usize {
        self.0.capacity()
    }
}

impl<F: NorFlash> asynchronous::NorFlash for Blocking<'_, F> {
    const WRITE_SIZE: usize = F::WRITE_SIZE;
    const ERASE_SIZE: usize = F::ERASE_SIZE;

    async fn erase(&mut self, _: u32, _: u32) -> Result<(), Refusal> {
        Err(Refusal::Repair)
    }

    async fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), Refusal> {
        self.0.write(offset, bytes).map_err(|_| Refusal::Flash)
    }
}
