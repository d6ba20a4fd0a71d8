/* What stands behind wm_cases. Internal to api/. */
#ifndef WM_API_CASES_HANDLE_H
#define WM_API_CASES_HANDLE_H

#include "api/handles.h"
#include "workshop/accepted.h"
#include "workshop/cases.h"
#include "workshop/coverage.h"
#include "workshop/mutate.h"

struct wm_cases {
  struct arena *home;  /* the handle and the list */
  struct arena *texts; /* sources and cases read from files; results */
  const wm_kb *kb;
  struct run *run;
  ARRAY(const struct worked_case *) list;
  struct verdict *verdicts;  /* one a case; NULL: not run since the last adding */
  struct accepted accepted;  /* answers NULL: none are compared */
  struct coverage *coverage; /* NULL: not gathered since the last adding */
  struct mutants mutants;
  enum notice notice;
  bool mutated;
  struct wm_allocator allocator;
  bool has_allocator;
};

const struct wm_allocator *cases_allocator(const wm_cases *cases);

#endif
