"""Build the explanation of one number: where it comes from, what went in, what it is judged by.

An index opens to its formula, inputs, validity and source (decision 11); a charted value to how it
was entered and what its field takes. Without a value the page says why, and what it would need.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from app.charting.course import moments
from app.charting.derive import WorkedOut
from app.charting.facts import Assessment, BodySize, Kind
from app.charting.fields import FIELDS
from app.charting.moment import Moment
from app.charting.terms import Terms, terms_of
from app.pages.banner import banner_of
from app.pages.bed import Known
from app.pages.explained_inputs import INDEX_BEHIND, Inputs, notes_on, state_words
from app.pages.explained_page import ExplainedPage, InputLine, PastValue
from app.pages.explained_range import range_of
from app.pages.field_facts import facts_of
from app.pages.frame import Frame
from app.pages.grid import row_notes
from app.pages.number_links import RowLinks, can_be_explained, compact
from app.pages.series import Point, points_of
