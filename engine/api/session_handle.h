/* What stands behind wm_session. Internal to api/. */
#ifndef WM_API_SESSION_HANDLE_H
#define WM_API_SESSION_HANDLE_H

#include "api/handles.h"
#include "session/session.h"

struct wm_session {
  struct arena *home;    /* the handle */
  struct arena *answers; /* arrays handed out */
  wm_case *player;
  struct session *session;
  size_t n_judged; /* remarks */
  bool tried, read, run;
};

/* What the case of the player says of reading; before any. */
void session_prepare(wm_session *session);
/* Looks for an alarm in the remarks that came since. False: no memory. */
bool session_watch_remarks(wm_session *session);
/* Closes the report; a piece that no memory was left for on the way is told too. */
enum wm_status session_close_report(struct report *report, const wm_session *session,
                                    enum wm_status status);

#endif
