//! The drive's interface: two bulk endpoints, and the requests that set them back (USB Mass Storage Class, Bulk-Only Transport 1.0).

use rp2040_hal::pac::USBCTRL_DPRAM;
use rp2040_hal::usb::UsbBus;
use usb_device::bus::{InterfaceNumber, UsbBusAllocator};
use usb_device::class::{ControlIn, ControlOut, UsbClass};
use usb_device::control::{Recipient, Request, RequestType};
use usb_device::descriptor::DescriptorWriter;
use usb_device::endpoint::{EndpointAddress, EndpointIn, EndpointOut};
use yarn_scale_core::board::PACKET;

/// The interface and its endpoints.
pub(crate) struct Storage<'a> {
    interface: InterfaceNumber,
    input: EndpointIn<'a, UsbBus>,
    output: EndpointOut<'a, UsbBus>,
    was_reset: bool,
}

impl<'a> Storage<'a> {
    /// Takes what it needs of the bus.
    pub(crate) fn new(bus: &'a UsbBusAllocator<UsbBus>) -> Self {
        Self {
            interface: bus.interface(),
            input: bus.bulk(PACKET as u16),
            output: bus.bulk(PACKET as u16),
            was_reset: false,
        }
    }

    /// The packet that has come, and its length.
    pub(crate) fn read(&mut self, packet: &mut [u8; PACKET]) -> Option<usize> {
        self.output.read(packet).ok()
    }

    /// Sends a packet; `false` while the last one has not been taken.
    pub(crate) fn write(&mut self, packet: &[u8]) -> bool {
        self.input.write(packet).is_ok()
    }

    /// Whether the bus or the interface was reset since this was last asked.
    pub(crate) const fn take_reset(&mut self) -> bool {
        core::mem::replace(&mut self.was_reset, false)
    }

    /// What the bus driver leaves out where a computer clears a halt: the endpoint's next packet is DATA0 (USB 2.0, 9.4.5), and one that
    /// still waits is withdrawn.
    fn start_over(address: EndpointAddress) {
        // SAFETY: the bus driver touches an endpoint's word only when that endpoint is read or written, which this same loop does.
        let memory = unsafe { &*USBCTRL_DPRAM::PTR };
        let is_in = address.is_in();
        let word = memory.ep_buffer_control(address.index() << 1 | usize::from(!is_in));
        word.modify(|_, w| {
            w.stall().clear_bit();
            if is_in {
                w.available_0().clear_bit().full_0().clear_bit();
            }
            // The bit of a packet to the computer is flipped before it is sent.
            w.pid_0().bit(is_in)
        });
    }
}

impl UsbClass<UsbBus> for Storage<'_> {
    fn get_configuration_descriptors(&self, writer: &mut DescriptorWriter<'_>) -> usb_device::Result<()> {
        writer.iad(self.interface, 1, MASS_STORAGE, SCSI, BULK_ONLY, None)?;
        writer.interface(self.interface, MASS_STORAGE, SCSI, BULK_ONLY)?;
        writer.endpoint(&self.input)?;
        writer.endpoint(&self.output)
    }

    fn reset(&mut self) {
        self.was_reset = true;
    }

    fn control_in(&mut self, transfer: ControlIn<'_, '_, '_, UsbBus>) {
        let request = *transfer.request();
        let is_mine = request.request_type == RequestType::Class
            && request.recipient == Recipient::Interface
            && request.index == u16::from(u8::from(self.interface));
        if is_mine && request.request == GET_MAX_LUN {
            // Whether this was taken, the computer finds out by itself.
            let _ = transfer.accept_with(&[0]);
        }
    }

    fn control_out(&mut self, transfer: ControlOut<'_, '_, '_, UsbBus>) {
        let request = *transfer.request();
        let endpoint = [self.input.address(), self.output.address()]
            .into_iter()
            .find(|address| request.index == u16::from(u8::from(*address)));
        match (request.request_type, request.recipient, request.request) {
            (RequestType::Class, Recipient::Interface, BULK_ONLY_RESET)
                if request.index == u16::from(u8::from(self.interface)) =>
            {
                self.was_reset = true;
                let _ = transfer.accept();
            }
            (RequestType::Standard, Recipient::Endpoint, Request::CLEAR_FEATURE)
                if request.value == Request::FEATURE_ENDPOINT_HALT =>
            {
                if let Some(address) = endpoint {
                    Self::start_over(address);
                    let _ = transfer.accept();
                }
            }
            _ => {}
        }
    }
}

const MASS_STORAGE: u8 = 0x08;
const SCSI: u8 = 0x06;
const BULK_ONLY: u8 = 0x50;
const GET_MAX_LUN: u8 = 0xFE;
const BULK_ONLY_RESET: u8 = 0xFF;
