/* What intake.c, intake_header.c and intake_cell.c share. Internal to the intake. */
#ifndef WM_SESSION_INTAKE_PARTS_H
#define WM_SESSION_INTAKE_PARTS_H

#include "session/intake.h"

/* Both write into out without a NUL and return the count of bytes, 0 when there is no room.
 * Small letters, digits and "#", one blank between words. */
#define PLAIN_ROOM 128
size_t plain_header(char out[PLAIN_ROOM], const char *text, size_t n);
/* Small letters and digits alone, for names: "7-Iron" is "7iron". */
size_t plain_name(char out[PLAIN_ROOM], const char *text, size_t n);
/* A unit by name, whatever its case; NULL: none. */
const struct golf_unit *unit_called(const char *text, size_t n);
/* Whether the cell says that nothing is known: empty, "-", "n/a" and the like. */
bool cell_is_empty(const struct cell *cell);

/* How many columns of a row the knowledge knows by an entry, how many are called as an evidence is,
 * and how many cells are filled. */
struct recognition {
  size_t known, named, filled;
};
struct recognition header_recognise(struct intake *intake, const struct row *row);
/* Takes the row as the header. */
bool header_take(struct intake *intake, const struct row *row);
/* Takes a row of units below the header; false: it is none. */
bool header_take_units(struct intake *intake, const struct row *row);
/* Decides the columns; no more units come. */
bool header_settle(struct intake *intake);

/* The place of a cell, in a piece of source made of the row. */
struct span cell_span(struct intake *intake, const struct row *row, const struct cell *cell);
/* Counts a fault; the first are told. reason as in BAD_CELL. */
void tell_cell(struct intake *intake, const struct row *row, const struct cell *cell,
               struct intake_column *column, const char *reason);

/* Reads a cell of the column into *reading; false after tell_cell, or when it is empty. */
bool cell_read(struct intake *intake, const struct row *row, const struct cell *cell,
               struct intake_column *column, char delimiter, double *reading);
/* The club of a cell, or NO_INDEX. */
size_t cell_club(struct intake *intake, const struct row *row, const struct cell *cell,
                 struct intake_column *column);
/* Takes the hand of a row, and who plays; false: the table is not one player's, which is told. */
bool cell_hand(struct intake *intake, const struct row *row, const struct cell *cell,
               struct intake_column *column);
bool cell_player(struct intake *intake, const struct row *row, const struct cell *cell,
                 struct intake_column *column);
/* Keeps what is written in a column that gives no reading; false: no memory. */
bool cell_remark(struct intake *intake, const struct row *row, const struct cell *cell,
                 struct intake_column *column);
/* "this table cannot be read": an error at the cell. */
void refuse_table(struct intake *intake, const struct row *row, const struct cell *cell,
                  const char *reason);
/* -1 or 1 of a cell that names a side, 0: none. */
int cell_side(const struct evidence *evidence, const char *text, size_t n);

#endif
