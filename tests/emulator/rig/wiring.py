"""What is wired to which pin: the bench's own copy of the wiring, so that a swapped pin in the firmware shows here."""

CONVERTER_CLOCK = 2
CONVERTER_DATA = 3
# I2C0 on SDA GP4 and SCL GP5; the controller routes its own pins.
I2C_SDA = 4
I2C_SCL = 5
KEYS = {"zero": 10, "mark": 11, "next": 12}
BUZZER = 14
# Free: while a computer enumerates the device, the way round erratum RP2040-E5 borrows it.
BORROWED = 15
# On the board: the regulator's power-save input, 5 V of USB through a divider, the lamp (on a Pico W all three go to the radio).
REGULATOR, VBUS, LAMP = 23, 24, 25
# VSYS through the board's own divider by three, read on ADC3.
SUPPLY = 29
SUPPLY_CHANNEL = 3
SUPPLY_DIVIDER = 3

DISPLAY_ADDRESS = 0x3C
CLIMATE_ADDRESS = 0x44

FLASH_BASE = 0x1000_0000
FLASH_SIZE = 2 * 1024 * 1024
JOURNAL_OFFSET = 1024 * 1024
JOURNAL_SIZE = 1024 * 1024
RAM_BASE = 0x2000_0000
RAM_SIZE = 264 * 1024

CORE_HERTZ = 125_000_000
