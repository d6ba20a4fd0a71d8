/* From the rows of a table to shots: finds the header, understands columns, units and sides, reads
 * cells, and keeps account of all it understood and all it passed over. A row at a time, so a
 * stream of shots can be fed as it comes; nothing is guessed: what has no unit is left out and
 * told. The intake lives in the arena it is given and fills shots in the same; one thread. */
#ifndef WM_SESSION_INTAKE_H
#define WM_SESSION_INTAKE_H

#include "input/table.h"
#include "session/shots.h"

#define HEADER_ROWS_MAX 20 /* rows looked at for the header */
#define CELL_FAULTS_MAX 20 /* told one by one; the rest is counted */

enum column_use {
  USE_READINGS,
  USE_CLUB,
  USE_SHOT,      /* numbers the shots; not needed */
  USE_SIDE,      /* left or right of the column before it */
  USE_HAND,      /* the hand the player plays with: one a table */
  USE_PLAYER,    /* who plays: one a table */
  USE_IGNORED,   /* known, and of no use */
  USE_UNKNOWN,   /* no entry of the knowledge matches it */
  USE_AMBIGUOUS, /* two entries match it */
  USE_TWICE,     /* another column holds this evidence already */
  USE_MISFIT     /* its unit is not one of this evidence */
};
enum unit_from { UNIT_NOWHERE, UNIT_HEADER, UNIT_ROW, UNIT_ASKED, UNIT_USUAL };

struct intake_column {
  const char *header; /* as written */
  struct span at;
  enum column_use use;
  size_t evidence;               /* or NO_INDEX */
  const struct golf_unit *usual; /* meant when the table names none; NULL: it must name one */
  const struct golf_unit *unit;
  enum unit_from unit_from;
  const char *unit_written; /* as the table has it, or NULL */
  size_t slot;              /* column of the shots, for readings */
  size_t n_read, n_bad;     /* cells */
  bool told;                /* that cells lack a unit, or say the other hand */
  const char *player;       /* USE_PLAYER: plainly spelt; NULL: none yet */
  const char *called;       /* as written in player_line */
  uint32_t player_line;
  size_t n_remarks; /* cells kept as remarks, of columns that give no reading */
};

/* Words of a column that gives no reading, each once: they may speak of pain or danger. */
struct remark {
  uint32_t line;
  const char *text; /* what is searched */
  const char *told; /* the same with the answer, when it is the header of a column */
};
#define REMARKS_MAX 2000
#define REMARK_MAX 4000 /* bytes of one */

/* A unit the user named for an evidence. */
struct unit_choice {
  size_t evidence;
  const struct golf_unit *unit;
};

struct intake {
  struct shots *shots;
  struct diags *diags;
  const char *name; /* of the table, for diagnostics */
  enum hand hand;
  const struct unit_choice *units; /* n_units, set before the first row */
  size_t n_units;
  size_t club;           /* of shots whose row names none; or NO_INDEX */
  bool hand_given;       /* hand holds whatever the table says */
  const bool *is_safety; /* by evidence; NULL: none. A cell of such a column that is not understood
                            is an error */
  bool keeps_remarks;

  struct intake_column *columns;
  size_t n_columns;
  uint32_t header_line, first_line, last_line; /* of the shots; 0: none yet */
  char decimal;                                /* '.' or ',' once one was seen, else 0 */
  size_t n_before;                             /* rows before the header */
  size_t n_summary;                            /* rows that are no shots */
  size_t n_ragged, n_bad, n_empty;             /* rows; cells; rows without any reading */
  bool settled;                                /* the header's columns are decided */
  const char *header_bytes;
  struct span first_row;
  uint32_t hand_line; /* of the first row that tells the hand; 0: none yet */
  ARRAY(struct remark) remarks;
  struct names *remarked;
  size_t n_unread;     /* remarks over the limits */
  struct names *clubs; /* by plain spelling */
  size_t n_told;
};

/* Fills a fresh intake; shots must be empty. False: no memory. */
bool intake_start(struct intake *intake, struct shots *shots, const char *name,
                  struct diags *diags);
/* Takes the next row. False: stop, an error or a lack of memory is in diags. Rows that are no shots
 * are fine. */
bool intake_row(struct intake *intake, const struct row *row, char delimiter);
/* Says what is amiss when no row is left. False after an error. */
bool intake_end(struct intake *intake);
/* Tells a final answer of the table reader that is a fault. */
void intake_fault(struct intake *intake, enum table_answer answer, const struct row *row);

/* Reads the whole table; false after an error. */
bool intake_table(struct intake *intake, struct table *table);

#endif
