//! The USB serial line.
//!
//! It is polled by the loop, which the USB interrupt wakes. Nothing can be lost on the way: a packet that is not taken yet is
//! not acknowledged, and the computer sends it again.

use rp2040_hal::usb::UsbBus;
use usb_device::bus::UsbBusAllocator;
use usb_device::device::{StringDescriptors, UsbDevice, UsbDeviceBuilder, UsbVidPid};
use usbd_serial::{SerialPort, USB_CLASS_CDC};
use yarn_scale_core::board::Link;

/// The serial port and the device it belongs to.
pub(crate) struct Usb<'a> {
    device: UsbDevice<'a, UsbBus>,
    port: SerialPort<'a, UsbBus>,
}

impl<'a> Usb<'a> {
    /// A device that shows up as a serial port.
    ///
    /// # Panics
    /// If the descriptors were too long; they are constants.
    pub(crate) fn new(bus: &'a UsbBusAllocator<UsbBus>) -> Self {
        let port = SerialPort::new(bus);
        let names = StringDescriptors::default()
            .manufacturer("yarn scale")
            .product("yarn scale");
        let device = UsbDeviceBuilder::new(bus, VENDOR_AND_PRODUCT)
            .strings(&[names])
            .and_then(|builder| builder.max_packet_size_0(64))
            .expect("three short names, a standard packet size")
            .device_class(USB_CLASS_CDC)
            .build();
        Self { device, port }
    }

    /// Answers what the computer has asked; to be called often.
    pub(crate) fn poll(&mut self) {
        self.device.poll(&mut [&mut self.port]);
    }
}

impl Link for Usb<'_> {
    fn read(&mut self, into: &mut [u8]) -> usize {
        self.poll();
        self.port.read(into).unwrap_or_default()
    }

    fn write(&mut self, bytes: &[u8]) -> usize {
        let taken = self.port.write(bytes).unwrap_or_default();
        self.poll();
        taken
    }
}

/// The pair that V-USB's makers share freely for CDC serial devices told apart by their names.
const VENDOR_AND_PRODUCT: UsbVidPid = UsbVidPid(0x16C0, 0x27DD);
