#!/usr/bin/env python3
"""Writes the samples: samples/footbridge (inch, three-way), samples/shelter (metric, two-way) and
samples/orders (kits of three kinds from one shop's stock).

    make_samples.py TALLYBIN [--check]

The bench count is the blank Count sheet that the program writes for the job, filled in. The same
input gives the same content: with --check nothing is written, and a committed file that differs
from a fresh one is an error. All names, companies and numbers are invented.

The footbridge is a 30 ft trail bridge of two spliced steel girders with a timber deck, in nine
stages. Lengths are under the head: grip, washers, nut and about two threads, rounded up to the
next length that is sold. Carriage bolts have a washer under the nut only. Called torques are below
the Grade 5 dry value of the size (SAE J429 torque-tension chart, K = 0.20: 1/4 8.4, 1/2 75, 5/8
150, 3/4 267 ft-lb), and lower where timber is clamped (common practice, no source).

Pieces by stage, with the handrail mesh and without the approach ramp. Carried over, sold
separately and consumable lines make no demand.

    stage             required  covered  short  why
    1 Abutment shoes        52       52      0
    2 Girders              236      236      0
    3 Cross frames         221      221      0
    4 Nailers              174      170      4  half-inch nuts: bag C lacks 4, and bag D lends them
    5 Deck and curbs       448      442      6  curb bolts (2 deck boards for split ones came later)
    6 Posts                270      262      8  post bolts, packed half an inch too short
    7 Rails                390      388      2  a bent carriage bolt 1 of 3, a strap 1 (24 lock nuts came later)
    8 Handrail mesh        450       70    380  bag H did not come; bag G lends 20 of its washers
    9 Approach ramp          0        0      0  not chosen
    in all                2241     1841    400

The first parcel left 428 pieces open; the second, with 28 pieces, closed 28 of them: 24 lock nuts that
were back-ordered, 2 deck boards for the split ones, and 2 carriage bolts for 3 bent ones.

Findings, each with its pieces:

    slip is short      6  1/2 x 7-1/2 carriage bolts: 18 due, 12 on the slip
                      40  1/2 lock washers: 40 due, on no line of the slip (though found: see below)
    box is short       4  1/2 hex nuts, bag C: 32 on the slip, 28 counted
                       1  rail splice strap: 12 on the slip, 11 counted
                       8  5/8 x 5-1/2 hex bolts, bag F: 24 on the slip, 16 counted
    in the wrong bag   4  5/8 hex nuts: bag F has 20 of 24, bag B 40 of 32
    damaged            3  3/8 x 6 carriage bolts, bag G
                       2  deck boards
    box not received      bag H: 410 pieces on the slip
    not on the slip   40  1/2 lock washers, bag C: 40 counted
    not on the list   12  3/8 x 3-1/2 hex bolts, bag D
    wrong size packed  8  5/8 x 5 hex bolts, bag F: 12 due, 20 counted, against those 5-1/2 long
    extra              8  5/8 x 5 hex bolts (the wrong size above)
                       4  5/8 hex nuts: packs of 20, 56 due, 60 counted
                      44  #10 x 3 deck screws: by the hundred, 256 due, 300 on the slip, not counted
                      12  3/8 x 3-1/2 hex bolts (those on no list)

Two faults are planted in the parts list itself, for an audit to find: stage 3 has 40 half-inch
bolts but 32 nuts (4 places where there are 5 frames), and stage 7 calls 75 ft-lb for a 1/4 in
bolt where 75 in-lb is meant.

The shelter is a small bicycle shelter, two kits from one delivery, with no count. Pieces for both:
required 886, covered 878, short 8 (M12 nylon-insert lock nuts in stage 2: 32 due, 24 on the slip);
extra 4 (M8 washers: 216 due, 2 boxes of 100 and 20 loose) and 6 (M10 x 45 hex bolts, on no list).
"""

import argparse
import csv
import datetime
import io
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

import openpyxl
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.header_footer import HeaderFooterItem

from tally import key

SAMPLES = Path(__file__).resolve().parents[2] / "samples"

# ---------------------------------------------------------------- the footbridge's parts list
# description, part number, pieces per place, places, bag, option, use, place, torque

STAGES = {
    "1 Abutment shoes": [
        ("Bearing shoe, fixed", "TB-101", 1, 2, "", "", "", "near abutment", ""),
        ("Bearing shoe, sliding", "TB-102", 1, 2, "", "", "", "far abutment", ""),
        ("Elastomeric bearing pad", "TB-103", 1, 4, "", "", "", "under each shoe", ""),
        ("Wedge anchor, 3/4 x 7, HDG", "", 2, 4, "", "", "sold separately", "shoe to concrete", ""),
        ("Jam nut, 3/4-10, HDG", "", 2, 4, "A", "", "", "levelling", ""),
        ("Square plate washer, 3/4, HDG", "", 2, 2, "A", "", "", "sliding shoe slots", ""),
        ("Hex bolt, 1/2-13 x 1-3/4, Grade 5, HDG", "", 2, 4, "A", "", "", "keeper to shoe", "55 ft-lb"),
        ("Flat washer, USS, 1/2, HDG", "", 4, 4, "A", "", "", "keeper to shoe", ""),
        ("Hex nut, 1/2-13, Grade 5, HDG", "", 2, 4, "A", "", "", "keeper to shoe", ""),
    ],
    "2 Girders": [
        ("Girder half, near end", "TB-201", 1, 2, "", "", "", "", ""),
        ("Girder half, far end", "TB-202", 1, 2, "", "", "", "", ""),
        ("Web splice plate", "TB-203", 2, 2, "", "", "", "each splice", ""),
        ("Flange splice plate", "TB-204", 2, 2, "", "", "", "each splice", ""),
        ("Hex bolt, 3/4-10 x 2, Grade 5, HDG", "", 8, 2, "B", "", "", "web splice", "200 ft-lb"),
        ("Flat washer, USS, 3/4, HDG", "", 16, 2, "B", "", "", "web splice", ""),
        ("Hex nut, 3/4-10, Grade 5, HDG", "", 8, 2, "B", "", "", "web splice", ""),
        ("Hex bolt, 5/8-11 x 1-3/4, Grade 5, HDG", "", 16, 2, "B", "", "", "flange splice", "110 ft-lb"),
        ("Flat washer, USS, 5/8, HDG", "", 32, 2, "B", "", "", "flange splice", ""),
        ("Hex nut, 5/8-11, Grade 5, HDG", "", 16, 2, "B", "", "", "flange splice", ""),
        ("Hex bolt, 3/4-10 x 2, Grade 5, HDG", "", 2, 4, "B", "", "", "girder to shoe", ""),
        ("Flat washer, USS, 3/4, HDG", "", 4, 4, "B", "", "", "girder to shoe", ""),
        ("Nylon-insert lock nut, 3/4-10, HDG", "", 2, 4, "B", "", "", "girder to shoe", ""),
        ("Anti-seize compound, 4 oz tube", "TB-290", 1, 1, "", "", "consumable", "all steel joints", ""),
    ],
    "3 Cross frames": [
        ("Cross frame", "TB-301", 1, 5, "", "", "", "", ""),
        ("Hex bolt, 1/2-13 x 1-1/2, Grade 5, HDG", "", 8, 5, "C", "", "", "frame to girder", "55 ft-lb"),
        ("Flat washer, USS, 1/2, HDG", "", 16, 5, "C", "", "", "frame to girder", ""),
        ("Split lock washer, 1/2, HDG", "", 8, 5, "C", "", "", "frame to girder", ""),
        # Planted: 5 frames, so 40 nuts are wanted.
        ("Hex nut, 1/2-13, Grade 5, HDG", "", 8, 4, "C", "", "", "frame to girder", ""),
        ("Bracing rod bracket", "TB-302", 1, 4, "", "", "", "", ""),
        ("Threaded rod, 3/8-16 x 48, HDG", "", 1, 4, "C", "", "", "bracing", ""),
        ("Flat washer, USS, 3/8, HDG", "", 2, 4, "C", "", "", "bracing", ""),
        ("Hex nut, 3/8-16, HDG", "", 2, 4, "C", "", "", "bracing", ""),
        ("Hex bolt, 3/4-10 x 2, Grade 5, HDG", "", 8, 2, "", "", "carried over", "web splice, tighten now", "200 ft-lb"),
    ],
    "4 Nailers": [
        ("Timber nailer, 3 x 4, 10 ft", "TB-401", 1, 6, "", "", "", "", ""),
        ("Lag screw, 3/8 x 2, HDG", "", 8, 6, "D", "", "", "from below", ""),
        ("Flat washer, USS, 3/8, HDG", "", 8, 6, "D", "", "", "from below", ""),
        ("Carriage bolt, 1/2-13 x 3-1/2, HDG", "", 2, 6, "D", "", "", "nailer ends", ""),
        ("Flat washer, USS, 1/2, HDG", "", 2, 6, "D", "", "", "nailer ends", ""),
        ("Hex nut, 1/2-13, Grade 5, HDG", "", 2, 6, "D", "", "", "nailer ends", ""),
        ("Nailer splice strap", "TB-402", 1, 4, "", "", "", "", ""),
        ("Lag screw, 1/4 x 1-1/2, HDG", "", 4, 4, "D", "", "", "splice straps", ""),
        ("Flat washer, USS, 1/4, HDG", "", 4, 4, "D", "", "", "splice straps", ""),
    ],
    "5 Deck and curbs": [
        ("Deck board, 2 x 6, 4 ft", "TB-501", 1, 64, "", "", "", "", ""),
        ("Deck screw, #10 x 3, 18-8 stainless", "", 4, 64, "E", "", "", "each board", ""),
        ("Curb timber, 4 x 4, 10 ft", "TB-502", 1, 6, "", "", "", "", ""),
        ("Curb block", "TB-503", 1, 18, "", "", "", "", ""),
        ("Wood screw, #12 x 2-1/2, 18-8 stainless", "", 2, 18, "E", "", "", "curb blocks", ""),
        ("Carriage bolt, 1/2-13 x 7-1/2, HDG", "", 1, 18, "E", "", "", "curb to deck", ""),
        ("Flat washer, USS, 1/2, HDG", "", 1, 18, "E", "", "", "curb to deck", ""),
        ("Nylon-insert lock nut, 1/2-13, HDG", "", 1, 18, "E", "", "", "curb to deck", ""),
        ("End closure board", "TB-504", 1, 2, "", "without: approach ramp", "", "", ""),
        ("Lag screw, 3/8 x 4, HDG", "", 3, 2, "E", "without: approach ramp", "", "closure board", ""),
        ("Flat washer, USS, 3/8, HDG", "", 3, 2, "E", "without: approach ramp", "", "closure board", ""),
    ],
    "6 Posts": [
        ("Outrigger bracket", "TB-601", 1, 12, "", "", "", "", ""),
        ("Handrail post, 4 x 4", "TB-602", 1, 12, "", "", "", "", ""),
        ("Knee brace", "TB-603", 1, 6, "", "", "", "", ""),
        ("Hex bolt, 5/8-11 x 1-3/4, Grade 5, HDG", "", 2, 12, "F", "", "", "outrigger to girder", "110 ft-lb"),
        ("Flat washer, USS, 5/8, HDG", "", 4, 12, "F", "", "", "outrigger to girder", ""),
        ("Hex nut, 5/8-11, Grade 5, HDG", "", 2, 12, "F", "", "", "outrigger to girder", ""),
        ("Hex bolt, 5/8-11 x 5-1/2, Grade 5, HDG", "", 2, 12, "F", "", "", "post to outrigger", "60 ft-lb"),
        ("Flat washer, USS, 5/8, HDG", "", 4, 12, "F", "", "", "post to outrigger", ""),
        ("Nylon-insert lock nut, 5/8-11, HDG", "", 2, 12, "F", "", "", "post to outrigger", ""),
        ("Hex bolt, 5/8-11 x 5, Grade 5, HDG", "", 2, 6, "F", "", "", "brace to post", "60 ft-lb"),
        ("Flat washer, USS, 5/8, HDG", "", 4, 6, "F", "", "", "brace to post", ""),
        ("Nylon-insert lock nut, 5/8-11, HDG", "", 2, 6, "F", "", "", "brace to post", ""),
    ],
    "7 Rails": [
        ("Rail, 2 x 6, 12 ft", "TB-701", 1, 12, "", "", "", "", ""),
        ("Rail, 2 x 6, 6 ft", "TB-702", 1, 6, "", "", "", "", ""),
        ("Rail splice strap", "TB-703", 1, 12, "", "", "", "", ""),
        ("Cap rail, 2 x 6, 10 ft", "TB-704", 1, 6, "", "", "", "", ""),
        ("Carriage bolt, 3/8-16 x 6, A307, HDG", "", 2, 12, "G", "", "", "top rail", ""),
        ("Carriage bolt, 3/8-16 x 6, A307, HDG", "", 2, 12, "G", "", "", "mid and low rails", ""),
        ("Flat washer, USS, 3/8, HDG", "", 4, 12, "G", "", "", "all rails", ""),
        ("Nylon-insert lock nut, 3/8-16, HDG", "", 4, 12, "G", "", "", "all rails", ""),
        ("Carriage bolt, 1/4-20 x 2-1/4, HDG", "", 4, 12, "G", "", "", "rail splice", ""),
        ("Flat washer, USS, 1/4, HDG", "", 4, 12, "G", "", "", "rail splice", ""),
        ("Hex nut, 1/4-20, HDG", "", 4, 12, "G", "", "", "rail splice", ""),
        ("Lag screw, 1/4 x 3, HDG", "", 2, 12, "G", "", "", "cap rail", ""),
        ("Flat washer, USS, 1/4, HDG", "", 2, 12, "G", "", "", "cap rail", ""),
        ("Load sign plate", "TB-705", 1, 2, "", "", "", "each end", ""),
        # Planted: 75 in-lb is meant.
        ("Hex bolt, 1/4-20 x 1, Grade 5, HDG", "", 2, 2, "G", "", "", "load sign", "75 ft-lb"),
        ("Flat washer, USS, 1/4, HDG", "", 4, 2, "G", "", "", "load sign", ""),
        ("Nylon-insert lock nut, 1/4-20, HDG", "", 2, 2, "G", "", "", "load sign", ""),
    ],
    "8 Handrail mesh": [
        ("Mesh panel, 6 ft", "TB-801", 1, 10, "", "with: handrail mesh", "", "", ""),
        ("Clamp bar", "TB-802", 4, 10, "", "with: handrail mesh", "", "", ""),
        ("Pan head machine screw, #10-24 x 3/4, 18-8 stainless", "", 8, 10, "H", "with: handrail mesh", "", "clamp bars", "20 in-lb"),
        ("Flat washer, SAE, #10, 18-8 stainless", "", 16, 10, "H", "with: handrail mesh", "", "clamp bars", ""),
        ("Nylon-insert lock nut, #10-24, 18-8 stainless", "", 8, 10, "H", "with: handrail mesh", "", "clamp bars", ""),
        ("Lag screw, 1/4 x 1-1/2, HDG", "", 4, 10, "H", "with: handrail mesh", "", "panel to rails", ""),
        ("Flat washer, USS, 1/4, HDG", "", 4, 10, "H", "with: handrail mesh", "", "panel to rails", ""),
    ],
    "9 Approach ramp": [
        ("Ramp frame", "TB-901", 1, 2, "", "with: approach ramp", "", "", ""),
        ("Ramp board, 2 x 6, 4 ft", "TB-902", 8, 2, "", "with: approach ramp", "", "", ""),
        ("Hex bolt, 1/2-13 x 2-1/2, Grade 5, HDG", "", 4, 2, "J", "with: approach ramp", "", "ramp to girder", "55 ft-lb"),
        ("Flat washer, USS, 1/2, HDG", "", 8, 2, "J", "with: approach ramp", "", "ramp to girder", ""),
        ("Hex nut, 1/2-13, Grade 5, HDG", "", 4, 2, "J", "with: approach ramp", "", "ramp to girder", ""),
        ("Deck screw, #10 x 3, 18-8 stainless", "", 32, 2, "J", "with: approach ramp", "", "ramp boards", ""),
    ],
}

TITLE = [
    ("Tarrowby Bridgeworks", "Parts list"),
    ("Model", "TF-30 trail footbridge, 30 ft clear span, 4 ft deck"),
    ("Revision", "C"),
    ("Date", "14 March 2026"),
    ("Drawing", "TF-30-000, sheets 1 to 9"),
]

HEADINGS = [
    "Stage", "Line", "Description", "Part no.", "Qty per place", "Places", "Total",
    "Bag", "Option", "Use", "Place", "Torque", "Unit wt, lb",
]

# Pounds of one piece, by part number; the list leaves the small parts out.
POUNDS = {
    "TB-101": 18, "TB-102": 21, "TB-201": 212, "TB-202": 212, "TB-203": 9.5, "TB-204": 14, "TB-301": 46,
    "TB-401": 22, "TB-501": 9, "TB-502": 38, "TB-503": 3.5, "TB-504": 12, "TB-601": 11, "TB-602": 15,
    "TB-603": 7, "TB-701": 26, "TB-702": 13, "TB-704": 22, "TB-801": 19, "TB-901": 64, "TB-902": 9,
}


def parts_list(path):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Parts list"
    bold, grey = Font(bold=True), PatternFill("solid", fgColor="DDE3E8")
    thin = Border(bottom=Side(style="thin", color="999999"))
    width = len(HEADINGS)

    row = 0
    for label, value in TITLE:
        row += 1
        sheet.cell(row, 1, label).font = bold
        sheet.cell(row, 3, value)
        sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=2)
        sheet.merge_cells(start_row=row, start_column=3, end_row=row, end_column=width)
    row += 1

    def headings(row):
        for column, heading in enumerate(HEADINGS, 1):
            cell = sheet.cell(row, column, heading)
            cell.font, cell.fill = bold, grey
            cell.alignment = Alignment(wrap_text=True, vertical="center")

    row += 1
    headings(row)
    sheet.freeze_panes = sheet.cell(row + 1, 1)
    sheet.print_title_rows = f"{row}:{row}"

    line = 0
    for stage, lines in STAGES.items():
        if stage.startswith("6"):
            # The heading stands again on the second printed page.
            row += 2
            headings(row)
        first = row + 1
        for description, number, each, places, bag, option, use, place, torque in lines:
            row += 1
            line += 1
            values = [
                None, line, description, number or None, each, places, each * places,
                bag or None, option or None, use or None, place or None, torque or None,
                POUNDS.get(number),
            ]
            for column, value in enumerate(values, 1):
                cell = sheet.cell(row, column, value)
                cell.border = thin
                if HEADINGS[column - 1] in ("Line", "Bag"):
                    cell.alignment = Alignment(horizontal="center")
        sheet.cell(first, 1, stage).alignment = Alignment(vertical="top", wrap_text=True)
        sheet.cell(first, 1).font = bold
        sheet.merge_cells(start_row=first, start_column=1, end_row=row, end_column=1)
        row += 1
        sheet.cell(row, 3, f"Subtotal, stage {stage[0]}").font = bold
        sheet.cell(row, 7, sum(each * places for _, _, each, places, *_ in lines)).font = bold

    for column, size in enumerate([18, 6, 50, 10, 9, 8, 8, 6, 23, 15, 23, 11, 9], 1):
        sheet.column_dimensions[get_column_letter(column)].width = size
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = openpyxl.worksheet.properties.PageSetupProperties(fitToPage=True)
    save(book, path)


# ---------------------------------------------------------------- the footbridge's packing slip
# part number, description, bag, ordered, shipped, back-ordered, unit of measure, pack size.
# Ordered, shipped and back-ordered are in the unit of measure: EA, PK (of so many), C (hundred).

SLIP = [
    ("TB-101", "SHOE BEARING FIXED", "", 2, 2, 0, "EA", ""),
    ("TB-102", "SHOE BEARING SLIDING", "", 2, 2, 0, "EA", ""),
    ("TB-103", "PAD BEARING ELASTOMERIC", "", 4, 4, 0, "EA", ""),
    ("TB-201", "GIRDER HALF NEAR", "", 2, 2, 0, "EA", ""),
    ("TB-202", "GIRDER HALF FAR", "", 2, 2, 0, "EA", ""),
    ("TB-203", "PLATE SPLICE WEB", "", 4, 4, 0, "EA", ""),
    ("TB-204", "PLATE SPLICE FLANGE", "", 4, 4, 0, "EA", ""),
    ("TB-301", "FRAME CROSS", "", 5, 5, 0, "EA", ""),
    ("TB-302", "BRACKET ROD BRACING", "", 4, 4, 0, "EA", ""),
    ("TB-401", "NAILER 3X4 10FT", "", 6, 6, 0, "EA", ""),
    ("TB-402", "STRAP SPLICE NAILER", "", 4, 4, 0, "EA", ""),
    ("TB-501", "BOARD DECK 2X6 4FT", "", 64, 64, 0, "EA", ""),
    ("TB-502", "TIMBER CURB 4X4 10FT", "", 6, 6, 0, "EA", ""),
    ("TB-503", "BLOCK CURB", "", 18, 18, 0, "EA", ""),
    ("TB-504", "BOARD CLOSURE END", "", 2, 2, 0, "EA", ""),
    ("TB-601", "BRACKET OUTRIGGER", "", 12, 12, 0, "EA", ""),
    ("TB-602", "POST HANDRAIL 4X4", "", 12, 12, 0, "EA", ""),
    ("TB-603", "BRACE KNEE", "", 6, 6, 0, "EA", ""),
    ("TB-701", "RAIL 2X6 12FT", "", 12, 12, 0, "EA", ""),
    ("TB-702", "RAIL 2X6 6FT", "", 6, 6, 0, "EA", ""),
    ("TB-703", "STRAP SPLICE RAIL", "", 12, 12, 0, "EA", ""),
    ("TB-704", "RAIL CAP 2X6 10FT", "", 6, 6, 0, "EA", ""),
    ("TB-705", "PLATE SIGN LOAD", "", 2, 2, 0, "EA", ""),
    ("TB-801", "PANEL MESH 6FT", "", 10, 10, 0, "EA", ""),
    ("TB-802", "BAR CLAMP", "", 40, 40, 0, "EA", ""),
    ("H-750-JN", "JN 3/4-10 HDG", "A", 8, 8, 0, "EA", ""),
    ("H-750-PW", "SQ PLATE WASHER .750 HDG", "A", 4, 4, 0, "EA", ""),
    ("H-500-175", "HHCS 1/2-13 X 1.750 GR5 HDG", "A", 8, 8, 0, "EA", ""),
    ("H-500-FW", "FW USS .500 HDG", "A", 16, 16, 0, "EA", ""),
    ("H-500-HN", "HN 1/2-13 GR5 HDG", "A", 8, 8, 0, "EA", ""),
    ("H-750-200", "HHCS 3/4-10 X 2.000 GR5 HDG", "B", 24, 24, 0, "EA", ""),
    ("H-750-FW", "FW USS .750 HDG", "B", 2, 2, 0, "PK", 24),
    ("H-750-HN", "HN 3/4-10 GR5 HDG", "B", 16, 16, 0, "EA", ""),
    ("H-750-LN", "NLN 3/4-10 HDG", "B", 8, 8, 0, "EA", ""),
    ("H-625-175", "HHCS 5/8-11 X 1.750 GR5 HDG", "B", 32, 32, 0, "EA", ""),
    ("H-625-FW", "FW USS .625 HDG", "B", 2, 2, 0, "PK", 32),
    ("H-625-HN", "HN 5/8-11 GR5 HDG", "B", 2, 2, 0, "PK", 20),
    ("H-500-150", "HHCS 1/2-13 X 1.500 GR5 HDG", "C", 2, 2, 0, "PK", 20),
    ("H-500-FW", "FW USS .500 HDG", "C", 4, 4, 0, "PK", 20),
    ("H-500-HN", "HN 1/2-13 GR5 HDG", "C", 32, 32, 0, "EA", ""),
    ("H-375-ATR", "ATR 3/8-16 X 48 HDG", "C", 4, 4, 0, "EA", ""),
    ("H-375-FW", "FW USS .375 HDG", "C", 8, 8, 0, "EA", ""),
    ("H-375-HN", "HN 3/8-16 HDG", "C", 8, 8, 0, "EA", ""),
    ("H-375-L200", "LAG SCR 3/8 X 2.000 HDG", "D", 2, 2, 0, "PK", 24),
    ("H-375-FW", "FW USS .375 HDG", "D", 2, 2, 0, "PK", 24),
    ("H-500-C350", "CB 1/2-13 X 3.500 HDG", "D", 12, 12, 0, "EA", ""),
    ("H-500-FW", "FW USS .500 HDG", "D", 12, 12, 0, "EA", ""),
    ("H-500-HN", "HN 1/2-13 GR5 HDG", "D", 12, 12, 0, "EA", ""),
    ("H-250-L150", "LAG SCR 1/4 X 1.500 HDG", "D", 16, 16, 0, "EA", ""),
    ("H-250-FW", "FW USS .250 HDG", "D", 16, 16, 0, "EA", ""),
    ("H-375-350", "HHCS 3/8-16 X 3.500 GR5 HDG", "D", 12, 12, 0, "EA", ""),
    ("S-010-300", "DECK SCR #10 X 3.000 18-8", "E", 3, 3, 0, "C", ""),
    ("S-012-250", "WOOD SCR #12 X 2.500 18-8", "E", 36, 36, 0, "EA", ""),
    ("H-500-C750", "CB 1/2-13 X 7.500 HDG", "E", 12, 12, 0, "EA", ""),
    ("H-500-FW", "FW USS .500 HDG", "E", 18, 18, 0, "EA", ""),
    ("H-500-LN", "NLN 1/2-13 HDG", "E", 18, 18, 0, "EA", ""),
    ("H-375-L400", "LAG SCR 3/8 X 4.000 HDG", "E", 6, 6, 0, "EA", ""),
    # A rounded decimal: .38 for 3/8, to be looked at.
    ("H-375-FW", "FW USS .38 HDG", "E", 6, 6, 0, "EA", ""),
    ("H-625-175", "HHCS 5/8-11 X 1.750 GR5 HDG", "F", 24, 24, 0, "EA", ""),
    ("H-625-FW", "FW USS .625 HDG", "F", 5, 5, 0, "PK", 24),
    ("H-625-HN", "HN 5/8-11 GR5 HDG", "F", 1, 1, 0, "PK", 20),
    ("H-625-550", "HHCS 5/8-11 X 5.500 GR5 HDG", "F", 24, 24, 0, "EA", ""),
    ("H-625-500", "HHCS 5/8-11 X 5.000 GR5 HDG", "F", 12, 12, 0, "EA", ""),
    ("H-625-LN", "NLN 5/8-11 HDG", "F", 36, 36, 0, "EA", ""),
    ("H-375-C600", "CB 3/8-16 X 6.000 HDG", "G", 2, 2, 0, "PK", 24),
    ("H-375-FW", "FW USS .375 HDG", "G", 2, 2, 0, "PK", 24),
    ("H-375-LN", "NLN 3/8-16 HDG", "G", 48, 24, 24, "EA", ""),
    ("H-250-C225", "CB 1/4-20 X 2.250 HDG", "G", 48, 48, 0, "EA", ""),
    ("H-250-FW", "FW USS .250 HDG", "G", 4, 4, 0, "PK", 25),
    ("H-250-HN", "HN 1/4-20 HDG", "G", 48, 48, 0, "EA", ""),
    ("H-250-L300", "LAG SCR 1/4 X 3.000 HDG", "G", 24, 24, 0, "EA", ""),
    ("H-250-100", "HHCS 1/4-20 X 1.000 GR5 HDG", "G", 4, 4, 0, "EA", ""),
    ("H-250-LN", "NLN 1/4-20 HDG", "G", 4, 4, 0, "EA", ""),
    ("S-010-PH75", "PHMS #10-24 X .750 18-8", "H", 80, 80, 0, "EA", ""),
    ("S-010-FW", "FW SAE #10 18-8", "H", 160, 160, 0, "EA", ""),
    ("S-010-LN", "NLN #10-24 18-8", "H", 80, 80, 0, "EA", ""),
    ("H-250-L150", "LAG SCR 1/4 X 1.500 HDG", "H", 40, 40, 0, "EA", ""),
    ("H-250-FW", "FW USS .250 HDG", "H", 2, 2, 0, "PK", 25),
    # Paint by the half gallon: no count of pieces, so the line goes aside.
    ("TB-291", "TOUCH-UP PAINT, ZINC RICH", "", 0.5, 0.5, 0, "GAL", ""),
]


def packing_slip(path):
    lines = [
        ["PACKING SLIP", "40718", "", "", "", "", "", ""],
        ["SHIPPED FROM", "Tarrowby Bridgeworks, Dock 2", "", "", "", "", "", ""],
        ["SHIP TO", "Ambermere Park District, Pell Creek trailhead", "", "", "", "", "", ""],
        ["ORDER", "QF-2291 (Quillfen Outdoor Supply)", "", "", "", "", "", ""],
        ["PARTS LIST REV", "C", "", "", "", "", "", ""],
        ["SHIP DATE", "21 April 2026", "", "", "", "", "", ""],
        [""] * 8,
        ["PART NO", "DESCRIPTION", "BAG", "QTY ORD", "QTY SHIP", "B/O", "U/M", "PACK OF"],
    ]
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(lines + [list(line) for line in SLIP])
    path.write_bytes(text.getvalue().encode())


# What the kit maker sent after the first claim, in a parcel of its own, nine days after the kit.

SECOND_PARCEL = [
    ("H-375-LN", "NLN 3/8-16 HDG", "G", 24, "EA"),
    ("H-375-C600", "CB 3/8-16 X 6.000 HDG", "G", 2, "EA"),
    ("TB-501", "BOARD DECK 2X6 4FT", "", 2, "EA"),
]


def second_parcel(path):
    lines = [
        ["PACKING SLIP", "40902", "", "", ""],
        ["SHIPPED FROM", "Tarrowby Bridgeworks, Dock 2", "", "", ""],
        ["ORDER", "QF-2291 (claim of 27 April)", "", "", ""],
        ["PARTS LIST REV", "C", "", "", ""],
        ["SHIP DATE", "30 April 2026", "", "", ""],
        [""] * 5,
        ["PART NO", "DESCRIPTION", "BAG", "QTY SHIP", "U/M"],
    ]
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(lines + [list(line) for line in SECOND_PARCEL])
    path.write_bytes(text.getvalue().encode())


# ---------------------------------------------------------------- the footbridge's bench count
# What the count found, where it differs from the slip. (stage-list description, bag): (good,
# damaged). None is not counted.

COUNT = {
    ("Hex nut, 1/2-13, Grade 5, HDG", "C"): (28, None),
    ("Split lock washer, 1/2, HDG", "C"): (40, None),
    ("Deck board, 2 x 6, 4 ft", ""): (62, 2),
    ("Deck screw, #10 x 3, 18-8 stainless", "E"): (None, None),
    ("Hex bolt, 5/8-11 x 5-1/2, Grade 5, HDG", "F"): (16, None),
    ("Hex bolt, 5/8-11 x 5, Grade 5, HDG", "F"): (20, None),
    ("Carriage bolt, 3/8-16 x 6, A307, HDG", "G"): (45, 3),
    ("Flat washer, USS, 3/8, HDG", "G"): (None, None),
    ("Rail splice strap", ""): (11, None),
}
COUNT_DATE = datetime.date(2026, 4, 25)
NOT_RECEIVED = {"H"}
COUNTED_BY = {"": "R. Osk", "A": "R. Osk", "B": "R. Osk", "C": "M. Dunmoor", "D": "M. Dunmoor"}


def bench_count(folder, tallybin):
    """Fills the Count sheet that the program writes for the job, with what the slip says or COUNT."""
    number = {line[0]: line[1] for lines in STAGES.values() for line in lines}
    found = {(key(item, number[item]), bag): figures for (item, bag), figures in COUNT.items()}
    on_slip = {}
    for part, description, bag, _, shipped, _, unit, pack in SLIP:
        if unit != "GAL":
            pieces = shipped * {"EA": 1, "C": 100, "PK": pack}[unit]
            on_slip[key(description, part), bag] = pieces

    with tempfile.TemporaryDirectory() as scratch:
        blank = Path(scratch) / "blank.xlsx"
        subprocess.run(
            [
                tallybin, "reconcile",
                "--required", folder / "parts-list.xlsx", "--shipped", folder / "packing-slip.csv",
                "--with", "handrail mesh", "--without", "approach ramp", "-o", blank,
            ],
            check=True, stdout=subprocess.DEVNULL,
        )
        book = openpyxl.load_workbook(blank)
    for name in book.sheetnames:
        if name not in ("Count sheet", "Bags"):
            del book[name]

    filled = set()
    sheet, column = book["Count sheet"], None
    for row in sheet.iter_rows():
        texts = [cell.value for cell in row]
        if texts[0] == "Count date":
            row[1].value = COUNT_DATE
            row[1].number_format = "d mmmm yyyy"
        elif "Good" in texts:
            column = {text: index for index, text in enumerate(texts)}
        elif column and texts[column["Item"]]:
            bag = texts[column["Bag"]] or ""
            at = (key(texts[column["Item"]], texts[column["Part no."]] or ""), bag)
            good, damaged = found.get(at, (on_slip.get(at), None))
            if bag in NOT_RECEIVED:
                good = None
            for heading, figure in (("Good", good), ("Damaged", damaged)):
                row[column[heading]].value = figure
            if good is not None:
                row[column["Counted by"]].value = COUNTED_BY.get(bag, "L. Vey")
            filled.add(at)
    for at in found.keys() - filled:
        raise SystemExit(f"make_samples.py: the Count sheet has no row for {at}")

    sheet, column, sent = book["Bags"], None, {bag for _, bag in on_slip}
    for row in sheet.iter_rows():
        texts = [cell.value for cell in row]
        if "Received" in texts:
            column = {text: index for index, text in enumerate(texts)}
        elif column and texts[column["Bag"]] in sent:
            received = "no" if texts[column["Bag"]] in NOT_RECEIVED else "yes"
            row[column["Received"]].value = received

    # The foot of the page carries the time of the run.
    for sheet in book:
        sheet.oddFooter = HeaderFooterItem()
    save(book, folder / "bench-count.xlsx")


FOOTBRIDGE_JOB = """\
# The trail footbridge at Pell Creek: parts list, packing slip, bench count, and the slip of the parcel
# that came after the first claim. The count was made before it came.
name = "Pell Creek footbridge, TF-30"
kits = 1

required = ["parts-list.xlsx"]
shipped = ["packing-slip.csv", "second-parcel.csv"]
counted = ["bench-count.xlsx"]

with = ["handrail mesh"]
without = ["approach ramp"]

[tray]
rows = 4
columns = 6
bin_length_mm = 250            # what is longer stands beside the trays

[claim]
"From" = "Ambermere Park District, trails crew"
"Through" = "Quillfen Outdoor Supply"
"To" = "Tarrowby Bridgeworks, warranty desk"
"Order" = "QF-2291"
"Kit" = "TF-30, serial 0417"
"Packing slip" = "40718"
"Received" = "24 April 2026"
"Claim window" = "14 days from receipt"
"Remedy wanted" = "missing and damaged pieces, shipped"
"Ship to" = "Ambermere Park District, Pell Creek trailhead"
"Needed by" = "11 May 2026"
"""


# ---------------------------------------------------------------- the footbridge from the shop's side

BRIDGE_SHOP_JOB = FOOTBRIDGE_JOB.split("[tray]")[0].replace(
    "# The trail footbridge",
    "# The shop's side: what its bins fill, and what its rules allow.\n#\n# The trail footbridge",
).replace(
    'counted = ["bench-count.xlsx"]',
    'counted = [\n    "bench-count.xlsx",\n'
    '    { file = "found-loose.csv", date = "25 April 2026" },\n]\nstock = ["shop-bins.csv"]',
) + """\
[[substitutes]]
for = "H-500-C750"             # 1/2 x 7-1/2 carriage bolt, curb to deck
longer_by = "1/2"
approved_by = "N. Varley, Tarrowby Bridgeworks"
"""

BRIDGE_BINS = """\
Item,On hand,Bin,Pack of
"Hex nut, 1/2-13, Grade 5, HDG",3,R1-B4,50
"Carriage bolt, 1/2-13 x 8, HDG",4,R3-A1,25
"Lag screw, 1/4 x 1-1/2, HDG",100,R2-C2,100
"""

FOUND_LATER = """\
Description,Good
"Carriage bolt, 3/8-16 x 6-1/2, A307, HDG",5
"""


# ---------------------------------------------------------------- the shelter
# stage, description, part number, pieces in one shelter, property class, finish, mass of one in kg

SHELTER = [
    ("1 Base", "Base post", "BW-11", 4, "", "", "18,5"),
    ("1 Base", "Threaded rod M16 x 190", "", 16, "8.8", "HDG", "0,25"),
    ("1 Base", "Hex nut M16", "", 32, "8", "HDG", "0,034"),
    ("1 Base", "Plain washer M16", "", 32, "", "HDG", "0,011"),
    ("2 Frame", "Roof beam", "BW-21", 2, "", "", "24,0"),
    ("2 Frame", "Hex bolt M12x1,75 x 40", "", 16, "8.8", "HDG", "0,053"),
    ("2 Frame", "Plain washer M12", "", 32, "", "HDG", "0,006"),
    ("2 Frame", "Nylon-insert lock nut M12", "", 16, "8", "HDG", "0,018"),
    ("3 Purlins", "Purlin", "BW-31", 6, "", "", "6,2"),
    ("3 Purlins", "Hex bolt M10 x 30", "", 12, "8.8", "HDG", "0,031"),
    ("3 Purlins", "Plain washer M10", "", 24, "", "HDG", "0,004"),
    ("3 Purlins", "Hex nut M10", "", 12, "8", "HDG", "0,011"),
    ("4 Roof", "Roof sheet", "BW-41", 6, "", "", "7,5"),
    ("4 Roof", "Hex bolt M8x1,25 x 25", "", 36, "A2-70", "", "0,015"),
    ("4 Roof", "Plain washer M8", "", 72, "A2-70", "", "0,002"),
    ("4 Roof", "Nylon-insert lock nut M8", "", 36, "A2-70", "", "0,006"),
    ("5 Hoops", "Bicycle hoop", "BW-51", 5, "", "", "4,8"),
    ("5 Hoops", "Carriage bolt M10 x 80", "", 10, "8.8", "HDG", "0,055"),
    ("5 Hoops", "Plain washer M10", "", 10, "", "HDG", "0,004"),
    ("5 Hoops", "Hex nut M10", "", 10, "8", "HDG", "0,011"),
    ("5 Hoops", "Socket head cap screw M8 x 20", "", 18, "A2-70", "", "0,012"),
    ("5 Hoops", "Plain washer M8", "", 36, "A2-70", "", "0,002"),
]

SHELTER_SLIP = """\
Packing note 5512, Brindlewick Shelters
Two bicycle shelters for Coldharrow School
Packed 2 June 2026

Loose
8 x base post BW-11
4 x roof beam BW-21
12 x purlin BW-31
12 x roof sheet BW-41
10 x bicycle hoop BW-51

Crate 1
32 pcs M16 x 190 threaded rod, 8.8, HDG
64 hex nuts M16 class 8 HDG
64 pcs M16 flat washers HDG
32 off M12x1.75x40 hex bolts 8.8 HDG
64 off M12 flat washers HDG
24 off M12 nylon insert lock nuts class 8 HDG
24 off M10x30 hex bolts 8.8 HDG
6 off M10x45 hex bolts 8.8 HDG

Crate 2
20 off M10 x 80 carriage bolts 8.8 HDG
44 hex nuts M10 class 8 HDG
68 flat washers M10 HDG
72 off M8 x 1.25 x 25 hex bolts A2-70
72 off M8 nylon insert lock nuts A2-70
36 off M8 x 20 SHCS A2-70
2 boxes of 100 flat washers M8 A2-70
20 flat washers M8 A2-70
"""

SHELTER_JOB = """\
# Two bicycle shelters from one delivery; nothing has been counted yet.
name = "Coldharrow School bicycle shelters"
kits = 2

required = [{ file = "parts.csv", columns = { quantity = "No. off" } }]
shipped = ["packing-note.txt"]

[tray]
rows = 3
columns = 4
"""


def shelter(folder):
    text = io.StringIO()
    write = csv.writer(text, delimiter=";", lineterminator="\n")
    write.writerow(["Stage", "Item", "Part no.", "No. off", "Class", "Finish", "Mass, kg"])
    write.writerows(SHELTER)
    (folder / "parts.csv").write_text(text.getvalue())
    (folder / "packing-note.txt").write_text(SHELTER_SLIP)
    (folder / "job.toml").write_text(SHELTER_JOB)


# ---------------------------------------------------------------- three orders from one shop's stock
# Kits of three kinds for one trail, to be packed from the bins of Quillfen Outdoor Supply. Half-inch
# bolts 6 in long are scarce: 44 in two bins, 80 wanted. A boardwalk takes 16, a kiosk 8, a bench 4, so
# that 6 of the 9 kits can be packed, in either of two ways: no boardwalk, or one and a bench fewer; it is
# one, since that order is given first. Of the lock nuts there are 78 of 80: they stop nothing before the
# bolts do.
# stage, description, part number, pieces in one kit, bag

ORDERS = {
    "boardwalk": ("Ferndip boardwalk sections", 3, [
        ("1 Sleepers", "Sleeper, 6 x 6, 5 ft", "QB-11", 3, ""),
        ("1 Sleepers", "Hex bolt, 1/2-13 x 6, Grade 5, HDG", "", 12, "A"),
        ("1 Sleepers", "Flat washer, USS, 1/2, HDG", "", 24, "A"),
        ("1 Sleepers", "Nylon-insert lock nut, 1/2-13, HDG", "", 12, "A"),
        ("2 Deck", "Deck board, 2 x 6, 5 ft", "QB-12", 18, ""),
        ("2 Deck", "Deck screw, #10 x 3, 18-8 stainless", "", 72, "B"),
        ("3 Kerb", "Kerb rail, 4 x 4, 8 ft", "QB-13", 2, ""),
        ("3 Kerb", "Hex bolt, 1/2-13 x 6, Grade 5, HDG", "", 4, "B"),
        ("3 Kerb", "Flat washer, USS, 1/2, HDG", "", 8, "B"),
        ("3 Kerb", "Nylon-insert lock nut, 1/2-13, HDG", "", 4, "B"),
    ]),
    "kiosk": ("Ferndip trail kiosk", 2, [
        ("1 Posts", "Kiosk post, 6 x 6, 10 ft", "QK-21", 2, ""),
        ("1 Posts", "Post shoe", "QK-22", 2, ""),
        ("1 Posts", "Hex bolt, 1/2-13 x 6, Grade 5, HDG", "", 8, "A"),
        ("1 Posts", "Flat washer, USS, 1/2, HDG", "", 16, "A"),
        ("1 Posts", "Nylon-insert lock nut, 1/2-13, HDG", "", 8, "A"),
        ("2 Board", "Map board", "QK-23", 1, ""),
        ("2 Board", "Carriage bolt, 3/8-16 x 4, HDG", "", 6, "B"),
        ("2 Board", "Flat washer, USS, 3/8, HDG", "", 6, "B"),
        ("2 Board", "Hex nut, 3/8-16, HDG", "", 6, "B"),
    ]),
    "bench": ("Ferndip overlook bench", 4, [
        ("1 Frame", "Bench end", "QS-31", 2, ""),
        ("1 Frame", "Hex bolt, 1/2-13 x 6, Grade 5, HDG", "", 4, "A"),
        ("1 Frame", "Flat washer, USS, 1/2, HDG", "", 8, "A"),
        ("1 Frame", "Nylon-insert lock nut, 1/2-13, HDG", "", 4, "A"),
        ("2 Slats", "Slat, 2 x 4, 6 ft", "QS-32", 7, ""),
        ("2 Slats", "Carriage bolt, 3/8-16 x 4, HDG", "", 14, "A"),
        ("2 Slats", "Flat washer, USS, 3/8, HDG", "", 14, "A"),
        ("2 Slats", "Hex nut, 3/8-16, HDG", "", 14, "A"),
    ]),
}

# bin, description, part number, on hand, pack of

SHOP_BINS = [
    ("A-2", "Hex bolt, 1/2-13 x 6, Grade 5, HDG", "", 30, 25),
    ("A-10", "Hex bolt, 1/2-13 x 6, Grade 5, HDG", "", 14, 25),
    ("A-3", "Hex bolt, 1/2-13 x 5-1/2, Grade 5, HDG", "", 60, 25),
    ("A-4", "Carriage bolt, 3/8-16 x 4, HDG", "", 100, 50),
    ("B-1", "Nylon-insert lock nut, 1/2-13, HDG", "", 78, 50),
    ("B-2", "Hex nut, 3/8-16, HDG", "", 120, 100),
    ("C-1", "Flat washer, USS, 1/2, HDG", "", 200, 100),
    ("C-2", "Flat washer, USS, 3/8, HDG", "", 150, 100),
    ("D-5", "Deck screw, #10 x 3, 18-8 stainless", "", 300, 100),
    ("Yard 1", "Sleeper, 6 x 6, 5 ft", "QB-11", 12, ""),
    ("Yard 1", "Kerb rail, 4 x 4, 8 ft", "QB-13", 8, ""),
    ("Yard 2", "Deck board, 2 x 6, 5 ft", "QB-12", 60, ""),
    ("Yard 2", "Kiosk post, 6 x 6, 10 ft", "QK-21", 4, ""),
    ("Yard 2", "Slat, 2 x 4, 6 ft", "QS-32", 30, ""),
    ("Rack 1", "Post shoe", "QK-22", 5, ""),
    ("Rack 1", "Map board", "QK-23", 2, ""),
    ("Rack 2", "Bench end", "QS-31", 8, ""),
]


def orders(folder):
    def table(path, headings, lines):
        text = io.StringIO()
        csv.writer(text, lineterminator="\n").writerows([headings, *lines])
        path.write_text(text.getvalue())

    for name, (job, kits, lines) in ORDERS.items():
        headings = ["Stage", "Description", "Part no.", "Qty", "Bag"]
        table(folder / f"{name}-parts.csv", headings, lines)
        (folder / f"{name}.toml").write_text(
            f'name = "{job}"\nkits = {kits}\nrequired = ["{name}-parts.csv"]\nstock = ["shop-bins.csv"]\n'
        )
    headings = ["Bin", "Description", "Part no.", "On hand", "Pack of"]
    table(folder / "shop-bins.csv", headings, SHOP_BINS)


# ---------------------------------------------------------------- writing


def save(book, path):
    """Saves a workbook so that the same content gives the same bytes."""
    raw = io.BytesIO()
    book.save(raw)
    with zipfile.ZipFile(raw) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name in sorted(old.namelist(), key=lambda n: (n != "[Content_Types].xml", n)):
            data = old.read(name)
            if name == "docProps/core.xml":
                data = (
                    b'<?xml version="1.0" encoding="UTF-8"?>\n<cp:coreProperties xmlns:cp="http://schemas.'
                    b'openxmlformats.org/package/2006/metadata/core-properties"></cp:coreProperties>'
                )
            entry = zipfile.ZipInfo(name, (2026, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            new.writestr(entry, data)


def write(out, tallybin):
    footbridge = out / "footbridge"
    for folder in (footbridge, out / "shelter", out / "orders"):
        folder.mkdir(parents=True, exist_ok=True)
    parts_list(footbridge / "parts-list.xlsx")
    packing_slip(footbridge / "packing-slip.csv")
    second_parcel(footbridge / "second-parcel.csv")
    (footbridge / "job.toml").write_text(FOOTBRIDGE_JOB)
    (footbridge / "shop-job.toml").write_text(BRIDGE_SHOP_JOB)
    (footbridge / "shop-bins.csv").write_text(BRIDGE_BINS)
    (footbridge / "found-loose.csv").write_text(FOUND_LATER)
    bench_count(footbridge, tallybin)
    shelter(out / "shelter")
    orders(out / "orders")


def content(path):
    """What a file holds; of a workbook the parts, since compression may differ by machine."""
    if path.suffix != ".xlsx":
        return path.read_bytes()
    with zipfile.ZipFile(path) as book:
        return {name: book.read(name) for name in book.namelist()}


def main():
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("tallybin", type=Path, help="the program, to write the blank Count sheet")
    ask.add_argument("--check", action="store_true", help="compare with the committed files only")
    args = ask.parse_args()
    tallybin = args.tallybin.resolve()
    if not args.check:
        return write(SAMPLES, tallybin)
    with tempfile.TemporaryDirectory() as fresh:
        write(Path(fresh), tallybin)
        files = sorted(path.relative_to(fresh) for path in Path(fresh).rglob("*.*"))
        stale = [f for f in files if content(Path(fresh) / f) != content(SAMPLES / f)]
    for file in stale:
        print(f"samples/{file} is not what make_samples.py writes")
    if stale:
        sys.exit(1)
    print(f"{len(files)} sample files are as make_samples.py writes them")


if __name__ == "__main__":
    main()
