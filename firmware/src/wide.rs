//! Long products and leading zeros, for which the Cortex-M0+ has no instruction and the compiler's library needs twice as long; by
//! hand, since in Rust each of them would become a call of itself.

use core::arch::naked_asm;

/// The lower 64 bits of the product of two numbers of 64 bits (run-time ABI for the Arm architecture, 4.2): four products of 16 bits.
#[unsafe(no_mangle)]
#[unsafe(naked)]
extern "aapcs" fn __aeabi_lmul(_: u64, _: u64) -> u64 {
    naked_asm!(
        "push {{r4, r5}}",
        "muls r1, r2, r1", // what the upper words add to the upper word
        "muls r3, r0, r3",
        "adds r1, r1, r3",
        "lsrs r3, r0, #16",
        "lsrs r4, r2, #16",
        "uxth r0, r0",
        "uxth r2, r2",
        "mov r5, r0",
        "muls r5, r2, r5", // lower by lower
        "muls r0, r4, r0", // the two in the middle
        "muls r2, r3, r2",
        "muls r3, r4, r3", // upper by upper
        "adds r1, r1, r3",
        "movs r4, #0",
        "adds r0, r0, r2",
        "adcs r4, r4",
        "lsls r4, r4, #16",
        "adds r1, r1, r4",
        "lsrs r2, r0, #16",
        "lsls r0, r0, #16",
        "adds r0, r0, r5",
        "adcs r1, r2",
        "pop {{r4, r5}}",
        "bx lr",
    )
}

/// How many zeros stand before the first one: halves, quarters, eighths, and the last four from a table.
#[unsafe(no_mangle)]
#[unsafe(naked)]
extern "aapcs" fn __clzsi2(_: u32) -> u32 {
    naked_asm!(
        "movs r1, #28",
        "lsrs r2, r0, #16",
        "beq 1f",
        "subs r1, #16",
        "movs r0, r2",
        "1: lsrs r2, r0, #8",
        "beq 2f",
        "subs r1, #8",
        "movs r0, r2",
        "2: lsrs r2, r0, #4",
        "beq 3f",
        "subs r1, #4",
        "movs r0, r2",
        "3: adr r2, 4f",
        "ldrb r0, [r2, r0]",
        "adds r0, r0, r1",
        "bx lr",
        ".balign 4",
        "4: .byte 4, 3, 2, 2, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0",
    )
}
