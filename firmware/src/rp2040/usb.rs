//! The USB line: a serial port and a drive beside each other.
//!
//! It is polled by the loop, which the USB interrupt wakes. Nothing can be lost on the way: a packet that is not taken yet is
//! not acknowledged, and the computer sends it again.
//!
//! A device on cells must not pull at the bus of a computer that is off (USB 2.0, 7.1.5 and 7.2.1): the line is taken up only
//! while there are 5 V on it, and dropped when they go.

use rp2040_hal::Timer;
use rp2040_hal::pac::USBCTRL_REGS;
use rp2040_hal::usb::UsbBus;
use usb_device::bus::UsbBusAllocator;
use usb_device::device::{StringDescriptors, UsbDevice, UsbDeviceBuilder, UsbDeviceState, UsbVidPid};
use usbd_serial::SerialPort;
use yarn_scale_core::board::{Link, PACKET, Pipe};
use yarn_scale_firmware::identity::{MANUFACTURER, PRODUCT, PRODUCT_NUMBER, VENDOR_NUMBER};

use super::storage::Storage;

/// The serial port, the drive and the device they belong to.
pub(crate) struct Usb<'a> {
    bus: &'a UsbBusAllocator<UsbBus>,
    serial_number: &'a str,
    /// Made when 5 V are seen first.
    line: Option<Line<'a>>,
    on_the_bus: bool,
    timer: Timer,
}

struct Line<'a> {
    device: UsbDevice<'a, UsbBus>,
    port: SerialPort<'a, UsbBus>,
    storage: Storage<'a>,
    /// A computer has given it its configuration; also while that computer sleeps.
    configured: bool,
}

impl<'a> Line<'a> {
    fn new(bus: &'a UsbBusAllocator<UsbBus>, serial_number: &'a str) -> Self {
        let port = SerialPort::new(bus);
        let storage = Storage::new(bus);
        let names = StringDescriptors::default()
            .manufacturer(MANUFACTURER)
            .product(PRODUCT)
            .serial_number(serial_number);
        let device = UsbDeviceBuilder::new(bus, UsbVidPid(VENDOR_NUMBER, PRODUCT_NUMBER))
            .strings(&[names])
            .and_then(|builder| builder.max_packet_size_0(64))
            .expect("three short names, a standard packet size")
            .composite_with_iads()
            .build();
        Self {
            device,
            port,
            storage,
            configured: false,
        }
    }
}

impl<'a> Usb<'a> {
    /// A device that will show up as a serial port and a drive with that number.
    pub(crate) const fn new(bus: &'a UsbBusAllocator<UsbBus>, serial_number: &'a str, timer: Timer) -> Self {
        Self {
            bus,
            serial_number,
            line: None,
            on_the_bus: false,
            timer,
        }
    }

    /// Takes the line up or drops it, by whether there are 5 V on it.
    ///
    /// # Panics
    /// If the descriptors were too long; they are constants.
    pub(crate) fn attend(&mut self, powered: bool) {
        if powered == self.on_the_bus {
            return;
        }
        self.on_the_bus = powered;
        if powered && self.line.is_none() {
            self.line = Some(Line::new(self.bus, self.serial_number));
            return;
        }
        // SAFETY: one bit of a register that the bus driver writes only when the device is made, above.
        let controller = unsafe { &*USBCTRL_REGS::PTR };
        controller.sie_ctrl().modify(|_, w| w.pullup_en().bit(powered));
    }

    /// Answers what the computer has asked; to be called often.
    pub(crate) fn poll(&mut self) {
        if let Some(line) = self.line.as_mut().filter(|_| self.on_the_bus) {
            line.device.poll(&mut [&mut line.port, &mut line.storage]);
            match line.device.state() {
                UsbDeviceState::Configured => line.configured = true,
                UsbDeviceState::Default | UsbDeviceState::Addressed => line.configured = false,
                UsbDeviceState::Suspend => {}
            }
        }
    }

    /// The device's number, as the drive tells it.
    pub(crate) fn number(&self) -> [u8; 16] {
        let digits = self.serial_number.as_bytes().first_chunk();
        digits.copied().unwrap_or([b'0'; 16])
    }

    fn storage(&mut self) -> Option<&mut Storage<'a>> {
        let line = self.line.as_mut().filter(|_| self.on_the_bus)?;
        Some(&mut line.storage)
    }

    fn port(&mut self) -> Option<&mut SerialPort<'a, UsbBus>> {
        let line = self.line.as_mut().filter(|_| self.on_the_bus)?;
        Some(&mut line.port)
    }
}

impl Link for Usb<'_> {
    fn read(&mut self, into: &mut [u8]) -> usize {
        self.poll();
        self.port().and_then(|port| port.read(into).ok()).unwrap_or_default()
    }

    fn write(&mut self, bytes: &[u8]) -> usize {
        let taken = self.port().and_then(|port| port.write(bytes).ok()).unwrap_or_default();
        self.poll();
        taken
    }
}

impl Pipe for Usb<'_> {
    fn read(&mut self, packet: &mut [u8; PACKET]) -> Option<usize> {
        self.poll();
        self.storage()?.read(packet)
    }

    /// Waits for the packet before to be taken, as long as that takes a computer that is reading: going round the loop takes longer.
    fn write(&mut self, packet: &[u8]) -> bool {
        let began = self.timer.get_counter_low();
        loop {
            let Some(storage) = self.storage() else { return false };
            if storage.write(packet) {
                return true;
            }
            if self.timer.get_counter_low().wrapping_sub(began) > TAKEN_WITHIN_US {
                return false;
            }
        }
    }

    fn is_powered(&self) -> bool {
        self.on_the_bus
    }

    fn is_up(&self) -> bool {
        let line = self.line.as_ref().filter(|_| self.on_the_bus);
        line.is_some_and(|line| line.configured)
    }

    fn take_reset(&mut self) -> bool {
        self.poll();
        self.storage().is_some_and(Storage::take_reset)
    }
}

/// A packet of 64 bytes takes 60 us on the bus.
const TAKEN_WITHIN_US: u32 = 90;
