/* Views of the trace of one run: what a belief rests on, what spoke for and against it, what was
 * missing. They filter and order what run/ recorded; no belief is computed here. A view is made in
 * the arena given, holds indices into the model and the network, and is good as long as the run is
 * not chained again. Without memory a view is empty and the arena says so. Several threads may look
 * at the same run, each with its own arena. */
#ifndef WM_EXPLAIN_EXPLAIN_H
#define WM_EXPLAIN_EXPLAIN_H

#include "explain/chain.h"
#include "explain/contrast.h"
#include "explain/support.h"

#endif
