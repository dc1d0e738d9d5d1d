"""What the program says about files that are read and written."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # disk and folder
    "disk.full": "the disk is full; free some space or choose another folder",
    "disk.quota": "your disk quota is used up; free some space or choose another folder",
    "disk.too-large": "a file that large is not allowed here; choose another folder",
    "disk.no-permission": "you have no permission to write here; choose another folder",
    "disk.read-only": "the disk is read-only; choose another folder",
    "disk.no-folder": "the folder does not exist; choose another folder",
    "disk.not-a-folder": "a part of the path is a file, not a folder; choose another folder",
    "disk.is-a-folder": "a folder has that name; choose another name",
    "disk.long-path": "the path is too long; choose a shorter name",
    "disk": "{system}; choose another folder",
    "no-folder": (
        "the current folder no longer exists; change to another folder, or enter a full path"
    ),
    "write": "{path} was not written: {reason}",
    "write.busy": "another run is still writing into {folder}; wait until it ends",
    "write.file-in-the-way": "{path} is a file where a folder is needed; choose another folder",
    "write.no-folder": "the folder {path} was not created: {reason}",
    "write.no-temporary": "no temporary file was created: {reason}",
    "write.partly": "{fault} (written before it: {paths:, })",
    "write.folder": "{path} is a folder and is not replaced; {instead}",
    "write.special": "{path} is not an ordinary file and is not replaced; {instead}",
    "write.geopackage": (
        "the GeoPackage was not written; make room in the system's temporary folder or choose "
        "another format (GDAL says: {reason})"
    ),
    "exists": (
        "{paths:, } {count:already exists and differs|already exist and differ}; choose to "
        "replace {count:it|them}, or {instead}"
    ),
    "exists.another-name": "choose another name or folder",
    "exists.another-file": "choose another file",
    "exists.another-plan": "choose another name or folder",
    "rehearsal.new": "would be written",
    "rehearsal.same": "is already the same",
    "rehearsal.differs": "differs and would have to be replaced",
    # names, formats, choices
    "name": "name {name!r} {reason}; use {proposal!r}",
    "name.empty": "is empty",
    "name.forbidden": "must not contain {characters!r}",
    "name.reserved": "is reserved for a device on some systems",
    "name.long": "is longer than {limit_bytes} bytes",
    "name.dash": "starts with '-' and would be read as an option",
    "name.dots": "starts or ends with a dot or a space",
    "name.invisible": "contains invisible characters",
    "format.unknown": "unknown format {name!r}; use {formats:, }",
    "format.close": "unknown format {name!r}; did you mean {close}? ({formats:, })",
    "format.list": "formats are {formats:, } with commas between, or '{none}' alone",
    "paper": "unknown paper {name!r}; use {papers: or }",
    "choice": "{field} {value!r} is not known; use {most:, } or {last}",
    "unit.range": (
        "{key} {value} is out of range; enter a whole number from {lowest} to {highest:,}"
    ),
    "unit.word": "{key} {value} is not known; use {choices: or }",
    "unit.no-value": "'{item}' is not a limit; write key=value, as in {example}",
    "unit.twice": "{key} is given twice; remove one",
    "unit.close": "unknown limit '{key}'; did you mean {close}?",
    "unit.unknown": "unknown limit '{key}'; use {keys:, }",
    "unit.points": (
        "the flight has {points:,} turning points and the unit takes {limit:,}; add over=thin to "
        "leave some out, or plot the route in parts"
    ),
    "unit.routes": (
        "the flight needs {routes} routes of {limit} points and the unit takes {most} a file; "
        "add over=thin, or plot the route in parts"
    ),
    "unit.routes-checkpoints": (
        "the flight needs {routes} routes of {limit} points and the unit takes {most} a file; "
        "leave the checkpoints out of it, add over=thin, or plot the route in parts"
    ),
    "input.part": "unknown part {part!r}; use {parts:, }",
    "font": "the font {name} for printed pages is missing or damaged; install plotter again",
    "cannot-do.source-date-epoch": (
        "the environment variable SOURCE_DATE_EPOCH is not a whole number; unset it"
    ),
    "date.format": "'{date}' is not a date; write it as year-month-day: 2026-07-04",
    # what fits a GPS unit
    "unit-checkpoints": (
        "{count:,} {count:checkpoint is|checkpoints are} left out: the unit takes {limit:,} points."
    ),
    "unit-thinned": (
        "The GPX route leaves out {left_out:,} of {points:,} turning points: {named:, }. It is "
        "up to {most_nm:.1f} NM off the plotted route; fly by the chart there."
    ),
    "unit-thinned.point": "{name} ({off_nm:.1f} NM off)",
    "unit-name": "Name: {old} becomes {new}.",
    "unit-split": (
        "The GPX route is split into {count} parts, because the unit takes {limit} points: "
        "{parts:; }. Each begins where the one before ends."
    ),
    "unit-split.part": "{number}: {start} to {end}, {points} points",
    "unit-decimals": (
        "Positions are rounded to {decimals} decimals, which moves them by up to {most_nm:.3f} NM."
    ),
    "unit-elevations": "Elevations are left out of {count:,} {count:point|points}.",
    "gpx-route-points": (
        "The GPX route has {points:,} points; many GPS units hold 50 to 250 in a route. Check "
        "what yours holds; if it is fewer, plot the route in parts."
    ),
    "gpx-route-points.checkpoints": (
        "The GPX route has {points:,} points; many GPS units hold 50 to 250 in a route. Check "
        "what yours holds; if it is fewer, leave the checkpoints out of it, or plot the route in "
        "parts."
    ),
    # descriptions in files
    "description.stops": "STOP: {count}, read the cautions.",
    "description.short": "Planning aid only: check charts, NOTAMs and weather.",
    "description.flight": (
        "Plotted for {date} at {altitude_ft:altitude}, WGS 84, {line} legs, "
        "{distance_nm:distance} in all."
    ),
    "description.data": (
        "Airports as of {airports}, navaids as of {navaids}, {model} valid to {valid_to}."
    ),
    "description.checkpoint": ("Leg {leg}: {gone_nm:distance} gone, {to_go_nm:distance} to go"),
    # a file that is read
    "file": "{file}: {what}",
    "file.line": "{file}, line {line:,}: {what}",
    "file.on-line": "line {line:,}: {what}",
    "file.at": "{place}: {what}",
    "file.more": "and {count:,} more",
    "file.faults": "{file} cannot be used:\n  {faults:\n  }",
    "file.unreadable": "cannot be read: {reason}",
    "file.not-found": "no such file",
    "file.unknown-kind": "unknown kind of file; use one of {suffixes:, }",
    "file.too-large": "larger than {most_mb} MB; shorten it",
    "file.not-utf-8": "not UTF-8 text; save the file as UTF-8",
    "file.utf-16": "UTF-16 text; save the file as UTF-8",
    "file.not-toml": "not TOML: {reason}",
    "file.digits": "a number has too many digits; no limit is above 100,000",
    "file.larger-than-a-plan": "larger than any plan; name a plan file",
    "file.name-in-two-files": "{file} and {other} both have a point named '{name}'; rename one",
    "file-among-points": (
        "'{name}' is a file, and a file is a complete route; give it alone, without other points"
    ),
    "part.no-file": (
        "a part and a track tolerance apply only to a file; give the file instead of points"
    ),
    "part.unknown": "{file} has no part '{part}'; choose from {parts:, }",
    "part.no-parts": "{file} has no part '{part}', because it has no parts",
    "file.lonely-points": "no route, track or waypoints of two points or more",
    "file.only-skipped": "no point and no line to fly, only {skipped:, }",
    "file.nothing": "no point and no line",
    "file.one-place": "part {number}, {part}, has no two different places, and a route needs two",
    "file.one-place-of-parts": (
        "part {number}, {part}, has no two different places, and a route needs two; choose from "
        "{parts:, }"
    ),
    "file.long-part": "part {number}, {part}, has {count:,} points, and a route can have {most:,}",
    "file.faulty-part": "part {number}, {part}, cannot be used:\n  {faults:\n  }",
    "file-part": "Read from the file: {part}.",
    "file-part.others": "Read from the file: {part}. Parts of the file: {parts:, }.",
    "file-part.named": "{kind} '{name}' ({count:,} {count:point|points})",
    "file-part.unnamed": "{kind} ({count:,} {count:point|points})",
    "file-part.numbered": "{number} = {part}",
    "file-order": (
        "Waypoints are used in the order of the file. Is that the order you will fly them?"
    ),
    "file-fault": "The track continues without {count:,} of its points: {faults:; }.",
    "file-left-out": "Left out: {faults:; }.",
    "file-checkpoints": (
        "{count:,} {count:checkpoint|checkpoints} left out; checkpoints are placed again."
    ),
    "file-passed-over": "Not read: {skipped:, }.",
    "file-repeated": "{name} is at the same position as {other}; one of them is used.",
    "file-repeated.many": (
        "{count:,} points are at the same position as the one before; one is used."
    ),
    "track-thinned": (
        "{kept:,} of {count:,} track points are kept: no other is more than {off_nm:.2f} NM off "
        "the geodesic between two of them (tolerance {tolerance_nm:g} NM)."
    ),
    "track-thinned.joined": (
        "{kept:,} of {count:,} track points are kept, its {pieces:,} pieces joined by straight "
        "legs: no other is more than {off_nm:.2f} NM off the geodesic between two of them "
        "(tolerance {tolerance_nm:g} NM)."
    ),
    "track-height": "track height {height_ft:,.0f} ft",
    # figures in a file
    "position.numbers": (
        "a position has {count} numbers; write longitude, latitude and height with decimal points"
    ),
    "position.exchanged": "{reason}; are latitude and longitude exchanged?",
    "position.missing": "the {angle} is missing",
    "position.not-decimal": "{angle} '{typed}' is not in decimal degrees",
    "position.decimal-comma": (
        "{angle} '{typed}' is not in decimal degrees; write the decimals with a point, as in 44.5"
    ),
    "time.not-iso": "time {typed!r} is not a date and time",
    "elevation.not-a-number": "elevation {typed!r} is not a number",
    "elevation.range": (
        "elevation {value:g} {unit} is out of range; enter {lowest_ft:,.0f} to {highest_ft:,.0f} ft"
    ),
    # limits of a file
    "file.many-parts": "more than {most:,} parts; keep the one you need",
    "file.many-points": "more than {most:,} named points; keep fewer",
    "file.many-track-points": "more than {most:,} track points; shorten the track",
    "file.many-own-points": (
        "more than {most:,} points; keep those near the route in a smaller file"
    ),
    "file.many-features": "more than {most:,} features; keep those you need",
    "file.long-notes": "notes of more than {most:,} characters; shorten them",
    "file.long-note": "the end of a note of more than {most:,} characters",
    # tables
    "file.not-csv": "not CSV ({reason})",
    "file.surplus-cells": (
        "{cells} cells under {heads} column names; write numbers with a decimal point, and put "
        "text that contains the separator in double quotes"
    ),
    "file.no-columns": (
        "no column {columns: and no column } (found: {found}); the first line must be: {header}"
    ),
    "file.no-columns-at-all": (
        "no column {columns: and no column }; the first line must be: {header}"
    ),
    "file.column-twice": "two columns are named {column}; rename or remove one",
    "file.no-name": "the point has no name",
    "file.name-taken": "name '{name}' is already used on {place}",
    "file.no-point": "no point",
    "file.not-a-named-point": "{skipped}; only points with a name can be used",
    "file.no-end": "the {end} is missing",
    "file.empty-reading": "no reading and no course; enter one or remove the line",
    "file.no-reading": "no reading",
    "file.many-readings": "{count:,} readings; enter at most {most}, all made with one plotter",
    "file.larger-than-readings": (
        "larger than {most_mb} MB, which is too large for a file of readings"
    ),
    "file.own-plotter": "{file}: {what}; test the plotter again",
    "file.bad-plotter-test": "not a valid test of a plotter: {reason}",
    "file.no-plotter-test": "not a test of a plotter (schema {schema})",
    # XML, KML, KMZ
    "file.doctype": "has a DOCTYPE, which is not allowed; remove it, or export the file again",
    "file.encoding": "unknown encoding; save the file as UTF-8",
    "file.other-encoding": "not text in the encoding it names; save the file as UTF-8",
    "file.long-tag": "a tag or comment of more than {most_mb} MB",
    "file.deep": "nested more than {most} levels deep",
    "file.many-names": "more than {most:,} different names of elements or attributes",
    "file.first-element": "not {format}: its first element is {element}",
    "file.first-element-of": (
        "not {format}: its first element is '{element}' of namespace '{namespace}'"
    ),
    "file.ends-early": "the file is empty or cut off",
    "file.not-xml": "not XML: {reason}",
    "file.placemarks": "a placemark inside another",
    "file.long-coordinate": "a coordinate of more than 200 characters",
    "file.many-in-a-placemark": "a placemark of more than 1,000 points",
    "file.not-a-zip": "not a complete zip archive; export it again",
    "file.packing": "packed or encrypted in a way that is not read; save the KML itself",
    "file.archive-list": "an archive of too many files; save the KML itself",
    "file.no-kml": "no KML document in the archive",
    "file.zip-bomb": "unpacks to more than {most} times its size and is not read",
    # GeoJSON, GeoPackage, layers of a GIS
    "file.not-json": "not JSON; check that the file is complete",
    "file.not-geojson": "JSON, but not GeoJSON: no features",
    "file.deep-json": "nested too deep to be GeoJSON",
    "file.crs": (
        "the crs is {crs}, but GeoJSON positions are WGS 84 (RFC 7946); export it again in WGS "
        "84 (EPSG:4326)"
    ),
    "file.crs-unnamed": (
        "the crs has no name, and GeoJSON positions are WGS 84 (RFC 7946); export it again in "
        "WGS 84 (EPSG:4326)"
    ),
    "file.long-position": (
        "a position has more than three numbers ([{numbers}); write longitude, latitude and "
        "height with decimal points"
    ),
    "file.layer-system": "layer '{layer}' is in {system}; save it in WGS 84 (EPSG:4326)",
    "file.damaged-gpkg": "damaged, or asks for more work than a file of points should ({reason})",
    "file.not-gpkg": "not a GeoPackage",
    "file.other-kind": "the file is {kind}, not {expected} as it seems",
    "file.no-layer": "no layer in the file",
    "file.layers": "the file has several layers; choose one: {layers:, }",
    "file.unknown-layer": "no layer named '{layer}'; available: {layers:, }",
    "file.stopped": "reading stopped: {reason}",
    "file.no-positions": "no positions; a CSV needs columns latitude and longitude",
    "file.system": (
        "its reference system cannot be converted to WGS 84; export it again in WGS 84 ({system})"
    ),
    # what is not read
    "skipped.no-geometry": "{count:,} {count:feature|features} without a geometry",
    "skipped.polygon": "{count:,} {count:polygon|polygons}",
    "skipped.multipolygon": "{count:,} {count:multipolygon|multipolygons}",
    "skipped.collection": "{count:,} {count:geometry collection|geometry collections}",
    "skipped.geometry": "{count:,} {count:geometry|geometries} of another kind",
    "skipped.model": "{count:,} {count:model|models}",
    "skipped.overlay": "{count:,} {count:overlay|overlays}",
    "skipped.link": "{count:,} {count:link to another file|links to other files}",
    "skipped.kml": "{count:,} more KML {count:document|documents}",
    "skipped.inside": "{count:,} {count:point|points} inside other elements",
    "skipped.point-of-a-line": "{count:,} {count:point|points} of lines",
    # layers and tiles of the map
    "tiles-attribution": "enter an attribution for the tiles, as their license requires",
    "tiles": "tile address {url!r} {problem}; write it as in {example}",
    "tiles.long": "is longer than {most} characters",
    "tiles.characters": "has characters that no address has",
    "tiles.slots": "needs {{z}}, {{x}} and {{y}}, each once, and no other braces",
    "tiles.server": "has no plain server name",
    "tiles.scheme": "must start with https:// (or http:// for this machine itself)",
    "online-tiles": (
        "The map's page requests pictures of the area shown from {server}. They are not checked "
        "here, and without a network only the offline map is drawn."
    ),
    "own-layer-damaged": (
        "Your own {count:layer|layers} {layers:, } {count:is|are} damaged and not drawn. Add the "
        "file again ('plotter data add') or remove the layer ('plotter data drop')."
    ),
}
CONSOLE: Mapping[str, str] = {
    "exists": (
        "{paths:, } {count:already exists and differs|already exist and differ}; add --replace, "
        "or {instead}"
    ),
    "exists.another-name": "choose another --name or --into",
    "exists.another-file": "name another file with --keep FILE",
    "exists.another-plan": "choose another NAME or --into",
    "rehearsal.differs": "differs and would need --replace",
    "file-among-points": (
        "'{name}' is a file, and a file is a complete route; give it alone, without other points "
        "(for a file of points to use by name: --points)"
    ),
    "part.no-file": (
        "--part and --track-tolerance apply only to a file; enter its name instead of points, as "
        "in: trip.gpx --part track"
    ),
    "file-part.others": "Read from the file: {part}. Parts of the file, for --part: {parts:, }.",
    "track-thinned": (
        "{kept:,} of {count:,} track points are kept: no other is more than {off_nm:.2f} NM off "
        "the geodesic between two of them (--track-tolerance {tolerance_nm:g} NM)."
    ),
    "track-thinned.joined": (
        "{kept:,} of {count:,} track points are kept, its {pieces:,} pieces joined by straight "
        "legs: no other is more than {off_nm:.2f} NM off the geodesic between two of them "
        "(--track-tolerance {tolerance_nm:g} NM)."
    ),
    "file.layers": "the file has several layers; choose one with --layer: {layers:, }",
    "file.own-plotter": "{file}: {what}; test the plotter again with 'plotter rule --my-plotter'",
    "tiles-attribution": (
        'enter whose the tiles are, as their license requires: --tiles-attribution "© the '
        'people who made them"'
    ),
    "tiles": "--tiles {url!r} {problem}; write it as in --tiles '{example}'",
}
