/* What flight.c needs of flight_model.c beyond the public part; for these two files only. */
#ifndef WM_GOLF_FLIGHT_MODEL_H
#define WM_GOLF_FLIGHT_MODEL_H

#include "golf/flight.h"

/* Share of the spin lost a second at a speed (m/s). */
double golf_model_spin_rate(enum golf_model model, double speed);

/* One standard error (m) of a carry, for the spin parameter at launch. */
double golf_model_carry_error(double carry, double spin_parameter);

#endif
