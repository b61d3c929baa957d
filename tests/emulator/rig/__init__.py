"""A bench for the firmware image: the chip in an emulator, and around it models of what is wired to it.

The image is the one that goes onto a board; nothing in it knows that it is being emulated.
"""
