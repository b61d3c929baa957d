//! Division by the chip's own divider: a quotient in 8 cycles, where the library's takes 170.
//!
//! The compiler calls these by name for every `/` and `%`. The results are those of the library, bit for bit; of 64 bits the library's
//! is faster for large divisors, and ten times as long. The divider has one set of registers: no interrupt handler of this program
//! divides (see `rest`), and nothing runs on the second core.

use core::arch::asm;

use yarn_scale_firmware::long_division;

/// First of the divider's registers (RP2040 data sheet, 2.3.1.7).
const UNSIGNED_DIVIDEND: usize = 0xd000_0060;
/// From there: the signed dividend, whose divisor follows it as the unsigned one's does.
const SIGNED: usize = 8;

/// Quotient and remainder, in the registers where the caller expects them (run-time ABI for the Arm architecture, 4.3.1).
#[inline(always)]
fn divide(dividend: u32, divisor: u32, kind: usize) -> (u32, u32) {
    let (quotient, remainder);
    // SAFETY: the registers are the divider's and do nothing but divide; the data sheet asks for eight cycles before the result
    // is read, remainder first.
    unsafe {
        asm!(
            "str {dividend}, [{base}]",
            "str {divisor}, [{base}, #4]",
            "b 1f", "1: b 2f", "2: b 3f", "3: b 4f", "4:",
            "ldr {remainder}, [{results}, #4]",
            "ldr {quotient}, [{results}]",
            base = in(reg) UNSIGNED_DIVIDEND + kind,
            results = in(reg) UNSIGNED_DIVIDEND + 16,
            dividend = in(reg) dividend,
            divisor = in(reg) divisor,
            quotient = lateout(reg) quotient,
            remainder = out(reg) remainder,
            options(nostack, preserves_flags),
        );
    }
    (quotient, remainder)
}

#[unsafe(no_mangle)]
extern "aapcs" fn __aeabi_uidiv(dividend: u32, divisor: u32) -> u32 {
    divide(dividend, divisor, 0).0
}

#[unsafe(no_mangle)]
extern "aapcs" fn __aeabi_idiv(dividend: i32, divisor: i32) -> i32 {
    divide(dividend.cast_unsigned(), divisor.cast_unsigned(), SIGNED)
        .0
        .cast_signed()
}

#[unsafe(no_mangle)]
extern "aapcs" fn __aeabi_uidivmod(dividend: u32, divisor: u32) -> u64 {
    let (quotient, remainder) = divide(dividend, divisor, 0);
    u64::from(remainder) << 32 | u64::from(quotient)
}

#[unsafe(no_mangle)]
extern "aapcs" fn __aeabi_idivmod(dividend: i32, divisor: i32) -> u64 {
    let (quotient, remainder) = divide(dividend.cast_unsigned(), divisor.cast_unsigned(), SIGNED);
    u64::from(remainder) << 32 | u64::from(quotient)
}

/// What the library's `__aeabi_uldivmod` calls.
#[unsafe(no_mangle)]
extern "C" fn __udivmoddi4(dividend: u64, divisor: u64, remainder: Option<&mut u64>) -> u64 {
    let (quotient, rest) = long_division::divide(dividend, divisor);
    if let Some(remainder) = remainder {
        *remainder = rest;
    }
    quotient
}

/// What the library's `__aeabi_ldivmod` calls.
#[unsafe(no_mangle)]
extern "C" fn __divmoddi4(dividend: i64, divisor: i64, remainder: &mut i64) -> i64 {
    let (quotient, rest) = long_division::divide(dividend.unsigned_abs(), divisor.unsigned_abs());
    let signed = |size: u64, negative: bool| {
        let size = size.cast_signed();
        if negative { size.wrapping_neg() } else { size }
    };
    *remainder = signed(rest, dividend < 0);
    signed(quotient, (dividend ^ divisor) < 0)
}
