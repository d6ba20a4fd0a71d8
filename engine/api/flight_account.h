/* What stands between a case and the writers of a flight. Internal to api/: fills the account that
 * render/flight.h describes; owns nothing, allocates in the arena it is given. */
#ifndef WM_API_FLIGHT_ACCOUNT_H
#define WM_API_FLIGHT_ACCOUNT_H

#include "api/handles.h"
#include "render/flight.h"

/* From the readings of a case that was run. The conditions must be plausible. False: no memory. */
bool flight_account_fill(wm_case *player, const struct wm_conditions *conditions,
                         struct arena *arena, struct flight_account *account);
/* Whether the model exists and all numbers are within their plausible ranges. */
bool flight_conditions_plausible(const struct wm_conditions *conditions);

#endif
