"""Each check holds as the sizes stand, and fails when a size is changed so that it must: `python -m unittest`."""

import unittest

import check
import sizes

# Check, changed size, value.
CHANGES = (
    ("nothing_overlaps", "stop.gap", -0.1),
    ("nothing_overlaps", "flat.fixing", 40.0),
    ("nothing_overlaps", "supply.height", 30.0),
    ("does_not_tip", "pan.diameter", 150.0),
    ("does_not_tip", "loads.push", 10.0),
    ("is_heavy_enough", "flat.thickness", 2.0),
    ("pan_is_light_enough", "pan.thickness", 3.0),
    ("stop_protects", "stop.gap", 0.3),
    ("stop_protects", "cell.deflection", 0.2),
    ("stop_is_under_solid_metal", "cell.stop_in", 7.0),
    ("stop_is_under_solid_metal", "cell.stop_in", 28.0),
    ("stop_can_be_set", "cell.stop_screw", 25.0),
    ("stop_can_be_set", "flat.thickness", 2.0),
    ("screws_fit_the_cell", "cell.screw_fixed", 25.0),
    ("screws_fit_the_cell", "cell.screw_pan", 10.0),
    ("feet_clear_the_screws", "base.foot_height", 5.0),
    ("air_around_the_pan", "module.above", 20.0),
    ("air_around_the_pan", "case.gap", -20.0),
    ("air_around_the_cell", "skirt.air", 2.0),
    ("corner_stops_touch_last", "stop.corner_gap", 0.3),
    ("corner_stops_touch_last", "pan.thickness", 1.0),
    ("case_stands_apart", "case.gap", 5.0),
    ("case_stands_apart", "case.back", 48.0),
    ("case_holds_everything", "case.width", 146.0),
    ("case_holds_everything", "supply.height", 22.0),
    ("lid_and_keys_move_freely", "case.play", 0.05),
    ("lid_and_keys_move_freely", "case.key_apart", 18.0),
    ("window_shows_the_pixels", "case.window_height", 14.0),
    ("template_fits_the_page", "base.side", 205.0),
)


class Checks(unittest.TestCase):
    def test_every_check_has_a_size_that_breaks_it(self):
        self.assertEqual({name for name, _, _ in CHANGES}, {one.__name__ for one in check.CHECKS})

    def test_unchanged_sizes_pass(self):
        as_it_stands = check.Scale(sizes.load())
        for one in check.CHECKS:
            self.assertEqual(check.failures(one, as_it_stands), [], one.__name__)

    def test_changed_sizes_fail(self):
        for name, key, value in CHANGES:
            with self.subTest(name, **{key.replace(".", "_"): value}):
                changed = check.Scale(sizes.load(change={key: value}))
                self.assertNotEqual(check.failures(getattr(check, name), changed), [])


if __name__ == "__main__":
    unittest.main()
