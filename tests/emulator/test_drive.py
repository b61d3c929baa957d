"""Plugged in, the scale is a drive beside the serial line: read by SCSI, reset in the middle of everything, pressed by a bad host."""

import random
import shutil
import subprocess

from knitter import FIRST_CAKE, plugged_in
from loads import steady
from rig import journal, link
from rig.bench import Bench
from rig.disk import FAILED, GOOD, Disk
from rig.image import REPOSITORY
from rig.line import ask_by_program

PROGRAM = REPOSITORY / "target/release/yarn-scale"


def attached(image, **options) -> tuple[Bench, Disk]:
    bench = Bench(image, steady(1000), usb=True, **options)
    bench.machine.run_until(lambda: bench.usb.connected, 2000)
    return bench, Disk(bench)


def copied(image: bytes, name: str, folder) -> bytes:
    """A file of the volume by mtools, which know FAT from elsewhere."""
    whole = folder / "volume.img"
    whole.write_bytes(image)
    subprocess.run(["mcopy", "-n", "-i", whole, f"::{name}", folder / "copied"], check=True)
    content = (folder / "copied").read_bytes()
    (folder / "copied").unlink()
    return content


def test_is_a_drive_beside_the_serial_line(image, tmp_path):
    bench, disk = attached(image)
    assert len(disk.configuration) == 106 and bench.usb.descriptor(1)[4:7] == b"\xef\x02\x01", "composite, with associations"
    assert disk.ready() < 2000
    boot = disk.read(0, 1)
    assert boot[510:] == b"\x55\xaa" and boot[43:54] == b"YARN SCALE "
    volume = disk.dump()
    assert link.Computer(bench).ask(link.hello())[0] == link.DEVICE, "the serial line goes on"
    assert disk.wrong_toggles == [] and bench.converter.missed == 0 and bench.unexpected() == []
    path = tmp_path / "volume.img"
    path.write_bytes(volume)
    if shutil.which("fsck.fat"):
        checked = subprocess.run(["fsck.fat", "-n", path], capture_output=True, text=True)
        assert checked.returncode == 0 and len(checked.stdout.splitlines()) == 2, checked.stdout + checked.stderr
    if shutil.which("mcopy"):
        assert copied(volume, "MANUAL.HTM", tmp_path) == (REPOSITORY / "hardware-notes/manual.en.html").read_bytes()


def test_what_it_shows_is_what_the_program_reads(image, ready, tmp_path):
    """Read while the scale weighs and marks: nothing is missed, and the files are those of when it was plugged in."""
    knitter, _ = plugged_in(image, ready)
    bench = knitter.bench
    disk = Disk(bench)
    disk.ready()
    ask_by_program(bench, PROGRAM, "backup", tmp_path / "saved")
    taken = len(bench.converter.read)
    knitter.put(FIRST_CAKE - 4.4)
    began = bench.machine.ms
    volume = disk.dump()
    assert len(bench.converter.read) - taken >= (bench.machine.ms - began) // 100 - 1, "ten conversions a second"
    assert bench.converter.missed == 0
    knitter.see_steady(FIRST_CAKE - 4.4)
    knitter.go_on("MARK")
    bench.run(2000)
    assert disk.dump() == volume, "a volume changes under a computer"
    if shutil.which("mcopy"):
        assert copied(volume, "BACKUP.BIN", tmp_path) == (tmp_path / "saved").read_bytes()
    assert disk.wrong_toggles == [] and bench.unexpected() == []


def test_a_reset_at_any_moment_of_a_read_ends_it_and_nothing_else(image):
    bench, disk = attached(image)
    disk.ready()
    boot = disk.read(0, 1)
    for packets in (0, 1, 2, 8, 10, 16):
        begin = disk.packets
        disk.bulk_command(bytes([0x28, 0, 0, 0, 0, 0, 0, 0, 16, 0]), 16 * 512)
        disk.take_packets(packets)
        disk.reset()
        assert disk.read(0, 1) == boot, f"dead after {packets} packets"
        assert disk.packets > begin
    assert disk.wrong_toggles == [] and bench.unexpected() == []


def test_a_computer_that_behaves_badly_changes_nothing(image, request):
    """Commands, lengths and contents at random; now and then a reset. The scale weighs on, and its flash stays as it was."""
    bench, disk = attached(image)
    disk.ready()
    boot, flash = disk.read(0, 1), bench.machine.flash()
    dice = random.Random(20261129)
    for number in range(20_000 if request.config.getoption("--long") else 2_000):
        block = bytearray(dice.randbytes(dice.choice((6, 10, 12, 16))))
        if dice.random() < 0.7:
            block[0] = dice.choice((0x00, 0x03, 0x12, 0x1A, 0x1B, 0x1E, 0x23, 0x25, 0x28, 0x2A, 0x2F, 0x35, 0x5A, 0x9E, 0xA8, 0xAA))
        if block[0] == 0x1B:
            block[4] &= 1  # an ejected drive has nothing more to say
        if block[0] == 0x28 and dice.random() < 0.8:
            block[2:9] = bytes([0, 0, 0, dice.randrange(256), 0, 0, dice.randrange(3)])
        way = dice.randrange(4)
        length = dice.choice((0, 1, 13, 36, 64, 65, 512, 1000))
        if way == 0:
            disk.send(dice.randbytes(dice.choice((1, 30, 31, 32, 64))), 2000)
            disk.reset()
        elif way == 1 and length:
            assert disk.command(bytes(block), data=dice.randbytes(length))[0] in (0, 1, 2)
        else:
            assert disk.command(bytes(block), length)[0] in (0, 1, 2)
        if number % 500 == 499:
            assert disk.read(0, 1) == boot
    assert bench.machine.flash() == flash, "something was written"
    assert bench.converter.missed == 0 and bench.machine.resets == []
    assert disk.wrong_toggles == [] and bench.unexpected() == []
