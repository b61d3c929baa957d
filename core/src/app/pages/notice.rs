//! Something has just happened, or could not.

use super::Shows;
use crate::screen::{Body, KeyWord, Notice};

/// Any key closes a notice.
pub(crate) fn notice_view(notice: Notice) -> Shows {
    (Body::Notice(notice), [KeyWord::Ok; 3])
}
