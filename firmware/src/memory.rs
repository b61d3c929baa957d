//! Copying and filling by the routines of the chip's boot ROM: faster than the compiler's library, and they take no flash.
//!
//! The compiler calls these by name for whatever is larger than a few words (run-time ABI for the Arm architecture, 4.3.4), and says
//! that the memory is valid for `size` bytes. Its calls that name an alignment of 8 are served by those for 4.

use rp2040_hal::rom_data::{memcpy, memcpy44, memset, memset4};

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memcpy(to: *mut u8, from: *const u8, size: u32) {
    // SAFETY: as the caller says.
    unsafe { memcpy(to, from, size) };
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memcpy4(to: *mut u32, from: *const u32, size: u32) {
    // SAFETY: as the caller says; both are aligned.
    unsafe { memcpy44(to, from, size) };
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memcpy8(to: *mut u32, from: *const u32, size: u32) {
    // SAFETY: as the caller says.
    unsafe { __aeabi_memcpy4(to, from, size) };
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memmove(to: *mut u8, from: *const u8, size: usize) {
    if to.addr().abs_diff(from.addr()) >= size {
        // SAFETY: as the caller says; the two do not overlap.
        unsafe { __aeabi_memcpy(to, from, size as u32) };
        return;
    }
    // Volatile: else the compiler sees what this loop does, and calls this very function for it.
    // SAFETY: as the caller says, for each of the bytes.
    let one = |at: usize| unsafe { to.add(at).write_volatile(from.add(at).read_volatile()) };
    if to.cast_const() < from {
        (0..size).for_each(one);
    } else {
        (0..size).rev().for_each(one);
    }
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memmove4(to: *mut u8, from: *const u8, size: usize) {
    // SAFETY: as the caller says.
    unsafe { __aeabi_memmove(to, from, size) };
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memmove8(to: *mut u8, from: *const u8, size: usize) {
    // SAFETY: as the caller says.
    unsafe { __aeabi_memmove(to, from, size) };
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memset4(at: *mut u32, size: u32, byte: u8) {
    // SAFETY: as the caller says; it is aligned.
    unsafe { memset4(at, byte, size) };
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memset8(at: *mut u32, size: u32, byte: u8) {
    // SAFETY: as the caller says.
    unsafe { __aeabi_memset4(at, size, byte) };
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memclr(at: *mut u8, size: u32) {
    // SAFETY: as the caller says.
    unsafe { memset(at, 0, size) };
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memclr4(at: *mut u32, size: u32) {
    // SAFETY: as the caller says; it is aligned.
    unsafe { __aeabi_memset4(at, size, 0) };
}

#[unsafe(no_mangle)]
unsafe extern "aapcs" fn __aeabi_memclr8(at: *mut u32, size: u32) {
    // SAFETY: as the caller says.
    unsafe { __aeabi_memset4(at, size, 0) };
}
