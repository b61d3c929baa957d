//! The USB serial line.
//!
//! It is polled by the loop, which the USB interrupt wakes. Nothing can be lost on the way: a packet that is not taken yet is
//! not acknowledged, and the computer sends it again.
//!
//! A device on cells must not pull at the bus of a computer that is off (USB 2.0, 7.1.5 and 7.2.1): the line is taken up only
//! while there are 5 V on it, and dropped when they go.

use rp2040_hal::pac::USBCTRL_REGS;
use rp2040_hal::usb::UsbBus;
use usb_device::bus::UsbBusAllocator;
use usb_device::device::{StringDescriptors, UsbDevice, UsbDeviceBuilder, UsbVidPid};
use usbd_serial::{SerialPort, USB_CLASS_CDC};
use yarn_scale_core::board::Link;
use yarn_scale_firmware::identity::{MANUFACTURER, PRODUCT, PRODUCT_NUMBER, VENDOR_NUMBER};

/// The serial port and the device it belongs to.
pub(crate) struct Usb<'a> {
    bus: &'a UsbBusAllocator<UsbBus>,
    serial_number: &'a str,
    /// Made when 5 V are seen first.
    line: Option<Line<'a>>,
    on_the_bus: bool,
}

struct Line<'a> {
    device: UsbDevice<'a, UsbBus>,
    port: SerialPort<'a, UsbBus>,
}

impl<'a> Line<'a> {
    fn new(bus: &'a UsbBusAllocator<UsbBus>, serial_number: &'a str) -> Self {
        let port = SerialPort::new(bus);
        let names = StringDescriptors::default()
            .manufacturer(MANUFACTURER)
            .product(PRODUCT)
            .serial_number(serial_number);
        let device = UsbDeviceBuilder::new(bus, UsbVidPid(VENDOR_NUMBER, PRODUCT_NUMBER))
            .strings(&[names])
            .and_then(|builder| builder.max_packet_size_0(64))
            .expect("three short names, a standard packet size")
            .device_class(USB_CLASS_CDC)
            .build();
        Self { device, port }
    }
}

impl<'a> Usb<'a> {
    /// A device that will show up as a serial port with that number.
    pub(crate) const fn new(bus: &'a UsbBusAllocator<UsbBus>, serial_number: &'a str) -> Self {
        Self {
            bus,
            serial_number,
            line: None,
            on_the_bus: false,
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
            line.device.poll(&mut [&mut line.port]);
        }
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
