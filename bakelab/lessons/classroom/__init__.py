"""For teachers: sheets for a class, their key, and the marks of what comes back."""

from bakelab.lessons.classroom.folder import write_class
from bakelab.lessons.classroom.marks import ClassMarks, mark_class
from bakelab.lessons.classroom.report import marks_data, write_marks
from bakelab.lessons.classroom.roll import Student, read_students
from bakelab.lessons.classroom.sheets import ClassSet, class_set

__all__ = [
    "ClassMarks",
    "ClassSet",
    "Student",
    "class_set",
    "mark_class",
    "marks_data",
    "read_students",
    "write_class",
    "write_marks",
]
