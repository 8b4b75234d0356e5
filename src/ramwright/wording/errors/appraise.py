"""Sentences for what an appraisal misses on a sheet."""

from __future__ import annotations

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "fall_reduced": (
        "the readings of the visits give a fall of {fall:length}: the ram would stand above its water",
        "see what does not fit with `ramwright reduce`; two points may have changed places",
    ),
    "lift_reduced": (
        "the readings of the visits give a lift of {lift:length}, not above the fall of {fall:length}",
        "see what does not fit with `ramwright reduce`; if it really is that low, water runs there by itself",
    ),
    "same_point": (
        "both ends of this are one point: {value}",
        "name the two points apart; change points are tp 1, tp 2 and so on",
    ),
    "stage_feed_missing": (
        "nothing says how high the water stands in the drive tank at this stage",
        "write feed, or measure the fall",
    ),
    "stage_twice": ("the stage {value} is there twice", "keep one of the two"),
    "stage_gauge_order": (
        "the creek gauge shows no more at {value} water than at {lower} water",
        "check both readings, or leave them out",
    ),
    "walk_missing": ("this sheet has no walk", "write [walk] with places for intake and ram"),
    "walk_empty": ("the walk names no place for the {value}", "write one or more, with rough levels"),
    "walk_same_place": (
        "there is no distance from {value}",
        "check how far down the creek both are, or write distance = [[intake, ram, length]]",
    ),
    "walk_distance_missing": (
        "nobody gave the distance from {intake} to {value}",
        "pace it and write distance = [[intake, ram, length]], or how far down the creek both are",
    ),
    "walk_unknown": ("no place on the walk is called {value}", "those there are: {known}"),
    "line_missing": (
        "there is no pipe here yet",
        "write [[{field}]] with a pipe and its length: the pipe that is there, or the one you have in mind",
    ),
    "material_missing": (
        "a pipe given by its bore needs its material",
        'write material = "steel", or what it is made of',
    ),
    "roughness_too_large": (
        "{value} is rougher than a bore of {bore:small_length} allows",
        "roughness is the height of the bumps on the wall, far below a twentieth of the bore; check both",
    ),
    "profile_file_no_sheet": (
        "the file {value} is to lie beside the sheet, but this sheet is no file",
        "write the profile as rows instead",
    ),
    "profile_file_apart": (
        "{value} does not lie beside the sheet",
        "put the file into the folder of the sheet, or one below it, and write its name from there",
    ),
    "profile_file_unread": (
        "{value} cannot be read ({reason})",
        "check its name; it is looked for beside the sheet",
    ),
    "profile_other_line": (
        "the profile is {value:length} long, the pipe {pipe:length}",
        "measure both again, or give the profile of this line",
    ),
    "pocket_at_the_ram": (
        "air at the end of the last piece is in the ram, not in the pipe",
        "part the drive pipe at its hump, and write the air pocket to the piece above it",
    ),
}
