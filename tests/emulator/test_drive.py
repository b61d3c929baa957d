"""Plugged in, the scale is a drive beside the serial line: read by SCSI, reset in the middle of everything, pressed by a bad host."""

import csv
import random
import shutil
import subprocess

import pytest

from knitter import FIRST_CAKE, plugged_in
from loads import steady
from rig import journal, link
from rig.bench import Bench
from rig.decades import decades_later
from rig.disk import FAILED, GOOD, Disk
from rig.image import REPOSITORY
from rig.line import ask_by_program
from rig.wiring import FLASH_SIZE

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


NAMES = {
    "en": ("START HERE.HTM", "SECTIONS.CSV", "YARNS.CSV", "WEIGHINGS.CSV", "BACKUP.BIN", "MANUAL.HTM", "CHECK.TXT"),
    "de": ("HIER ANFANGEN.HTM", "ABSCHNITTE.CSV", "GARNE.CSV", "WIEGUNGEN.CSV", "SICHERUNG.BIN", "ANLEITUNG.HTM", "PRUEFUNG.TXT"),
}
# What stands on the page, in the table and in the check's text where something is damaged.
DOUBT = {
    "en": ("doubtful: a record next to it is damaged", ",true\r\n", "IN DOUBT"),
    "de": ("fraglich: ein Eintrag daneben ist beschädigt", ",ja\r\n", "ZWEIFELHAFT"),
}


def compared(image, flash: bytes, language: str, folder, complains: bool = False, older: bool = False) -> list[str]:
    """The files of the drive, found right by dosfstools and the same as the computer program's, which complains of damage; with `older` pairs
    than it tells whole, which take longer, the same as far as it tells them. Texts are handed back."""
    bench, disk = attached(image, flash=flash)
    # A long journal is read before the first conversion is.
    at_start = bench.converter.missed
    took = disk.ready()
    print(f"drive_there_ms {took:.0f}")
    assert took < (30_000 if older else 2000)
    volume = disk.dump()
    assert disk.wrong_toggles == [] and bench.converter.missed == at_start and bench.unexpected() == []
    (folder / "volume.img").write_bytes(volume)
    if shutil.which("fsck.fat"):
        checked = subprocess.run(["fsck.fat", "-n", folder / "volume.img"], capture_output=True, text=True)
        assert checked.returncode == 0 and len(checked.stdout.splitlines()) == 2, checked.stdout + checked.stderr
    if not shutil.which("mcopy"):
        pytest.skip("no mtools here")
    files = [copied(volume, name, folder) for name in NAMES[language]]
    ask_by_program(bench, PROGRAM, "backup", folder / "saved", code=1 if complains else 0)
    assert files[4] == (folder / "saved").read_bytes()
    (folder / "journal.bin").write_bytes(bench.flash.journal())
    for what, content in zip(("sections", "yarns", "weighings"), files[1:4]):
        told = subprocess.run([PROGRAM, "table", what, "--file", folder / "journal.bin"], capture_output=True)
        if content != told.stdout and older:
            assert_shorter(what, *(list(csv.reader(text.decode().splitlines())) for text in (content, told.stdout)))
        else:
            assert content == told.stdout, what
    assert files[5] == (REPOSITORY / f"hardware-notes/manual.{language}.html").read_bytes()
    return [content.decode() for content in (files[0], files[1], files[6])]


# Pairs that the drive tells with all that is left of them.
WHOLE = 24


def assert_shorter(what: str, shown: list[list[str]], told: list[list[str]]) -> None:
    """Of pairs older than the newest the drive tells what each section took, the program all that is left of them."""
    whole = sorted({int(row[0]) for row in told[1:]})[-WHOLE:]
    if what == "yarns":
        told = told[:1] + [row for row in told[1:] if int(row[0]) in whole]
    assert len(shown) == len(told), what
    used = 1 + told[0].index("used_mg") if what == "sections" else len(told[0])
    for one, other in zip(shown, told):
        columns = len(other) if one[0] == "pair" or int(one[0]) in whole else used
        assert one[:columns] == other[:columns], what


@pytest.fixture(scope="module")
def journals(tmp_path_factory):
    """Journals of invented pairs, whole and damaged, in both languages."""
    folder = tmp_path_factory.mktemp("journals")
    subprocess.run([PROGRAM.with_name("drive_files"), folder], check=True)
    return folder


@pytest.mark.parametrize(
    ("language", "kind"),
    [
        ("en", "damaged"),
        ("de", "whole"),
        pytest.param("en", "whole", marks=pytest.mark.long),
        pytest.param("de", "damaged", marks=pytest.mark.long),
    ],
)
def test_files_are_the_programs_in_both_languages_and_doubt_is_shown(image, journals, tmp_path, language, kind):
    area = (journals / f"journal.{kind}.{language}.bin").read_bytes()
    texts = compared(image, b"\xff" * (FLASH_SIZE - len(area)) + area, language, tmp_path, kind == "damaged")
    for text, doubt in zip(texts, DOUBT[language]):
        assert (doubt in text) == (kind == "damaged"), text


@pytest.mark.long
def test_files_of_a_full_journal(image, ready, tmp_path):
    """Decades: all of them on the drive, the newest pairs told whole. It takes longer than two seconds until they are there."""
    page, sections, check = compared(image, decades_later(ready), "en", tmp_path, older=True)
    assert page.count("<article") == 24 and sections.count("\r\n") > 5000 and "Of older pairs" in check


@pytest.mark.parametrize("host", ("linux", "windows", "macos"))
def test_answers_what_computers_ask_first_and_last(image, host):
    """The table says where each request is known from."""
    bench, disk = attached(image)
    bench.run(2000)  # until the medium is there: the first question is the host's
    with open(REPOSITORY / "tests/values/first_requests.csv", newline="") as table:
        rows = [row for row in csv.DictReader(line for line in table if line[0] != "#") if row["host"] == host]
    assert len(rows) > 10
    # The smallest volume of its kind: clusters, boot sector, two tables of 256 entries a sector, and the first directory.
    count = 4101 + 1 + 2 * 17 + 32
    named = {"count": count.to_bytes(4, "big"), "last": (count - 1).to_bytes(4, "big")}

    def octets(text: str) -> bytes:
        return b"".join(named[word] if word in named else bytes.fromhex(word) for word in text.split())

    for row in rows:
        size, answer = int(row["bytes"]), row["answer"]
        status, residue, came = disk.command(octets(row["block"]), size)
        if answer.startswith("sense"):
            assert status == FAILED, row
            if not answer.endswith("28"):
                assert disk.sense()[:2] == tuple(octets(answer[6:])), row
        else:
            assert status == GOOD and came.startswith(octets(answer)) and len(came) == size, row
            assert residue == 0 or size % 512, row
    assert disk.wrong_toggles == [] and bench.converter.missed == 0 and bench.unexpected() == []


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
