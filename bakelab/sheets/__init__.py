"""What leaves the lab: the kitchen sheet on one page, and exports."""

from bakelab.sheets.bake import BakeSheet, bake_sheet
from bakelab.sheets.bake_html import bake_html, bake_part_html
from bakelab.sheets.bake_pdf import bake_pdf
from bakelab.sheets.bench import bench_html
from bakelab.sheets.cautions import cautions
from bakelab.sheets.export import FORMATS, export, schema_org_json
from bakelab.sheets.html import sheet_html
from bakelab.sheets.kitchen import kitchen_sheet
from bakelab.sheets.markdown import to_markdown
from bakelab.sheets.model import Sheet
from bakelab.sheets.pdf import PAPERS, sheet_pdf
from bakelab.sheets.schema_org import to_schema_org
from bakelab.sheets.slips import key_html, key_pdf, slips_html, slips_pdf

__all__ = [
    "FORMATS",
    "PAPERS",
    "BakeSheet",
    "Sheet",
    "bake_html",
    "bake_part_html",
    "bake_pdf",
    "bake_sheet",
    "bench_html",
    "cautions",
    "export",
    "key_html",
    "key_pdf",
    "kitchen_sheet",
    "schema_org_json",
    "sheet_html",
    "sheet_pdf",
    "slips_html",
    "slips_pdf",
    "to_markdown",
    "to_schema_org",
]
