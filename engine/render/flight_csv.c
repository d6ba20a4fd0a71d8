#include "render/flight_parts.h"

/* Millimetres and milliseconds: the integrator is good to a centimetre. */
static void add_number(struct text *out, double x) {
  text_fixed(out, x, 3);
  text_add_char(out, ',');
}

void flight_csv(struct text *out, const struct flight_account *account) {
  const struct golf_path *path = &account->path;
  bool sideways = golf_facts_sideways(&account->facts);
  text_add(out, "time_s,distance_m,right_m,height_m,speed_mps,carry_error_m\n");
  for (size_t i = 0; i < path->count; i++) {
    const struct golf_point *point = &path->points[i];
    add_number(out, point->time);
    add_number(out, point->x);
    if (sideways) add_number(out, flight_hand(account, point->y));
    else text_add_char(out, ',');
    add_number(out, point->z);
    add_number(out, point->speed);
    if (i + 1 == path->count) text_fixed(out, account->outcomes.error[GOLF_OUTCOME_CARRY], 1);
    text_add_char(out, '\n');
  }
}
