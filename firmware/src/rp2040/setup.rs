//! Clocks, pins and peripherals, from reset to a state in which [`super::board::Pico`] can be put together.

use rp2040_hal::gpio::{Pins, PullNone};
use rp2040_hal::pac::Peripherals;
use rp2040_hal::usb::UsbBus;
use rp2040_hal::{Adc, Sio, Timer, Watchdog, pwm};
use usb_device::bus::UsbBusAllocator;
use yarn_scale_core::app::Chip;
use yarn_scale_firmware::buzzer::Buzzer;
use yarn_scale_firmware::hx711::Hx711;
use yarn_scale_firmware::identity::SerialNumber;

use super::board::Unshared;
use super::bus::Bus;
use super::clocks::{Clocks, Oscillators};
use super::flash;
use super::guard::InterruptsOff;
use super::keys::Keys;
use super::pads;
use super::power;
use super::sleep::Sleep;
use super::stop::{cause_of_start, reset_register};
use super::supply::Supply;
use super::tone::Wave;
use super::watchdog::Guard;

/// Everything that was set up, still apart.
pub(crate) struct Parts {
    pub(crate) bus: Bus,
    pub(crate) supply: Supply,
    pub(crate) usb: UsbBusAllocator<UsbBus>,
    pub(crate) serial_number: SerialNumber,
    pub(crate) chip: Chip,
    pub(crate) unshared: Unshared,
}

/// Second-stage loader: the boot ROM runs it first, to read flash fast.
#[unsafe(link_section = ".boot2")]
#[used]
pub(crate) static BOOT2: [u8; 256] = rp2040_boot2::BOOT_LOADER_W25Q080;

/// Takes the chip and sets it up.
///
/// # Panics
/// If the crystal's clocks cannot be set up or it is called twice; neither leaves anything to go on with.
pub(crate) fn parts() -> Parts {
    let mut chip = Peripherals::take().expect("setup runs once");
    let reset = reset_register(&chip.VREG_AND_CHIP_RESET, &chip.WATCHDOG);
    let cause = cause_of_start(&chip.WATCHDOG);
    power::set(&chip.VREG_AND_CHIP_RESET);
    let mut watchdog = Watchdog::new(chip.WATCHDOG);
    let oscillators = Oscillators {
        crystal: chip.XOSC,
        clocks: chip.CLOCKS,
        system: chip.PLL_SYS,
        usb: chip.PLL_USB,
    };
    let Some((speed, clocks)) = Clocks::start(oscillators, &mut chip.RESETS, &mut watchdog) else {
        panic!("the crystal does not run");
    };

    let flash_number = flash::unique_number();
    let mut timer = Timer::new(chip.TIMER, &mut chip.RESETS, &clocks);
    let alarm = timer.alarm_0().expect("setup runs once");
    let sio = Sio::new(chip.SIO);
    let pads = Pins::new(chip.IO_BANK0, chip.PADS_BANK0, sio.gpio_bank0, &mut chip.RESETS);

    let converter = Hx711::new(pads.gpio2.reconfigure(), pads.gpio3.reconfigure(), timer, InterruptsOff);
    let slices = pwm::Slices::new(chip.PWM, &mut chip.RESETS);
    let supply = Supply::new(
        Adc::new(chip.ADC, &mut chip.RESETS),
        pads.gpio29.reconfigure(),
        pads.gpio24.reconfigure(),
        pads.gpio23.reconfigure(),
        pads.gpio25.reconfigure(),
    );
    let buzzer = Buzzer::new(Wave::new(slices.pwm7, pads.gpio14.into_pull_type::<PullNone>()));
    let keys = Keys::new(
        pads.gpio10.reconfigure(),
        pads.gpio11.reconfigure(),
        pads.gpio12.reconfigure(),
    );
    let usb = UsbBus::new(
        chip.USBCTRL_REGS,
        chip.USBCTRL_DPRAM,
        clocks.usb_clock,
        true,
        &mut chip.RESETS,
    );
    let bus = Bus::new(
        chip.I2C0,
        chip.RESETS,
        pads.gpio4.reconfigure(),
        pads.gpio5.reconfigure(),
        timer,
    );
    pads::set();
    Parts {
        bus,
        supply,
        usb: UsbBusAllocator::new(usb),
        serial_number: SerialNumber::new(flash_number),
        chip: Chip {
            flash_number: u64::from_be_bytes(flash_number),
            reset,
        },
        unshared: Unshared {
            clocks: speed,
            converter,
            keys,
            buzzer,
            sleep: Sleep::new(alarm),
            watchdog: Guard::new(watchdog),
            timer,
            cause,
        },
    }
}
