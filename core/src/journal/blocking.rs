//! The board's blocking flash as the asynchronous one that the storage library wants.
//!
//! A blocking flash never makes a future wait, so each future is polled once, by a waker that does nothing; no executor is
//! needed.

use core::future::Future;
use core::pin::pin;
use core::task::{Context, Poll, Waker};

use embedded_storage::nor_flash::{ErrorType, NorFlash};
use embedded_storage_async::nor_flash as asynchronous;

/// A flash lent for the length of one call.
pub(super) struct Blocking<'f, F>(pub(super) &'f mut F);

/// Runs a future over [`Blocking`] flash to its end; `None` if it would wait, which it cannot.
pub(super) fn run<T>(future: impl Future<Output = T>) -> Option<T> {
    match pin!(future).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(value) => Some(value),
        Poll::Pending => None,
    }
}

impl<F: NorFlash> ErrorType for Blocking<'_, F> {
    type Error = F::Error;
}

impl<F: NorFlash> asynchronous::ReadNorFlash for Blocking<'_, F> {
    const READ_SIZE: usize = F::READ_SIZE;

    async fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), F::Error> {
        self.0.read(offset, bytes)
    }

    fn capacity(&self) -> usize {
        self.0.capacity()
    }
}

impl<F: NorFlash> asynchronous::NorFlash for Blocking<'_, F> {
    const WRITE_SIZE: usize = F::WRITE_SIZE;
    const ERASE_SIZE: usize = F::ERASE_SIZE;

    async fn erase(&mut self, from: u32, to: u32) -> Result<(), F::Error> {
        self.0.erase(from, to)
    }

    async fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), F::Error> {
        self.0.write(offset, bytes)
    }
}
