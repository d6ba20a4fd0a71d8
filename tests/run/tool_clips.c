/* Compares the whole fixpoint with a general-purpose rule engine: writes the compiled network and
 * cases as that engine's input, has it chain, and compares every certainty. Only the beliefs of
 * readings against thresholds are handed over; joins, groups, sums, unknowns and the order of
 * judging are the other engine's own. run_clips DIRECTORY RANDOM_CASES EVERY      each EVERY-th of
 * all cases; prints TAP; exit status 1 when a certainty differs by more than 1e-9 Two engines work
 * side by side, one on the even cases, one on the odd, because each takes a minute or so. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/knowledge.h"

#define TOLERANCE 1e-9
#define ENGINES 2

static const struct network *network;
static size_t every = 1;

static const char *kind_word(const struct premise_node *node) {
  switch (node->kind) {
  case CONDITION_ALL: return "all";
  case CONDITION_ANY: return "any";
  case CONDITION_NONE: return "none";
  default: return "leaf";
  }
}

static void write_nodes(FILE *out) {
  for (size_t i = 0; i < network->n_nodes; i++) {
    const struct premise_node *node = &network->nodes[i];
    fprintf(out, "(node (id %zu) (kind %s) (test %lld) (n %zu))\n", i, kind_word(node),
            node->test == NO_INDEX ? -1LL : (long long)node->test, node->n_clauses);
    size_t child = i + 1;
    for (size_t k = 0; k < node->n_clauses; k++, child += network->nodes[child].n_nodes)
      fprintf(out, "(child (of %zu) (i %zu) (node %zu))\n", i, k, child);
  }
  for (size_t i = 0; i < network->model->n_rules; i++)
    fprintf(out, "(premise (rule %zu) (node %zu))\n", i, network->rules[i].first_node);
  for (size_t i = 0; i < network->n_tests; i++) {
    const struct condition *condition = network->tests[i].condition;
    if (condition->kind == CONDITION_BELIEVED)
      fprintf(out, "(believed (test %zu) (claim %zu) (above %.17g))\n", i, condition->claim,
              condition->low);
  }
}

/* Members of one group form one unit; a rule without a group is a unit of its own. */
static void write_claim(FILE *out, size_t claim) {
  size_t first = network->first_contribution[claim], end = network->first_contribution[claim + 1];
  size_t units = 0;
  for (size_t i = first; i < end; i++) {
    const struct contribution *leader = &network->contributions[i];
    bool is_first = true;
    for (size_t k = first; leader->group != NO_INDEX && k < i; k++)
      is_first = is_first && network->contributions[k].group != leader->group;
    if (!is_first) continue;
    size_t members = 0;
    for (size_t k = i; k < end; k++) {
      const struct contribution *member = &network->contributions[k];
      if (k == i || (leader->group != NO_INDEX && member->group == leader->group))
        fprintf(out, "(contribution (claim %zu) (u %zu) (k %zu) (rule %zu) (strength %.17g))\n",
                claim, units, members++, member->rule, member->strength);
    }
    fprintf(out, "(unit (claim %zu) (u %zu) (members %zu))\n", claim, units++, members);
  }
  fprintf(out, "(claim (id %zu) (units %zu))\n", claim, units);
}

static void write_network(FILE *out) {
  fprintf(out, "(deffacts network\n");
  write_nodes(out);
  for (size_t claim = 0; claim < network->model->n_claims; claim++) write_claim(out, claim);
  fprintf(out, ")\n");
}

static void write_case(FILE *out, const struct run *run, size_t index) {
  fprintf(out, "(reset)\n");
  for (size_t i = 0; i < network->n_tests; i++)
    if (network->tests[i].condition->kind != CONDITION_BELIEVED)
      fprintf(out, "(assert (leaf (test %zu) (known %s) (b %.17g)))\n", i,
              run->tests[i].known ? "yes" : "no", run->tests[i].belief);
  fprintf(out, "(run)\n(report %zu)\n", index);
}

static void make_case(struct run *run, size_t index) {
  const struct model *model = network->model;
  uint64_t state = 0x5eed + index;
  run_reset(run);
  if (index < model->n_cases) worked_case_give(run, &model->cases[index]);
  else random_case(run, &state, 3 + (size_t)(random_next(&state) % 40));
  if (!run_chain(run, NULL)) abort();
}

static void write_input(struct run *run, const char *path, size_t first, size_t n_cases) {
  FILE *out = fopen(path, "w");
  if (out == NULL) abort();
  fprintf(out, "(load* \"tests/run/chaining.clp\")\n");
  write_network(out);
  for (size_t i = first * every; i < n_cases; i += ENGINES * every) {
    make_case(run, i);
    write_case(out, run, i);
  }
  fprintf(out, "(exit)\n");
  fclose(out);
}

/* The engine's "unknown" is our claim_state; a silent claim is known to be 0 there. */
static double difference(const struct run *run, size_t claim, const char *known, double certainty) {
  bool is_known = run->claims[claim] != CLAIM_UNKNOWN;
  if (is_known != (strcmp(known, "yes") == 0)) return 1;
  return is_known ? fabs(run->certainty[claim] - certainty) : 0;
}

static size_t compare(struct run *run, FILE *in, size_t n_cases, double *worst, size_t *compared) {
  size_t differing = 0, held = SIZE_MAX, index, claim;
  char line[200], known[8];
  double certainty;
  while (fgets(line, sizeof line, in)) {
    if (sscanf(line, "c %zu %zu %7s %lf", &index, &claim, known, &certainty) != 4 ||
        index >= n_cases || claim >= network->model->n_claims)
      continue;
    if (index != held) make_case(run, held = index);
    double off = difference(run, claim, known, certainty);
    *worst = fmax(*worst, off);
    *compared += 1;
    if (off > TOLERANCE && differing++ < 10)
      printf("# case %zu, %s: %.15g here (state %d), %s %.15g there\n", index,
             network->model->claims[claim].name, run->certainty[claim], (int)run->claims[claim],
             known, certainty);
  }
  return differing;
}

/* What all engines said, in files of their own. True when all ended well. */
static bool run_engines(struct run *run, const char *directory, size_t n_cases) {
  char path[500], command[1200];
  FILE *engines[ENGINES];
  bool good = true;
  for (size_t i = 0; i < ENGINES; i++) {
    snprintf(path, sizeof path, "%s/chaining_%zu", directory, i);
    char input[520];
    snprintf(input, sizeof input, "%s.clp", path);
    write_input(run, input, i, n_cases);
    snprintf(command, sizeof command, "clips -f2 %s > %s.out", input, path);
    engines[i] = popen(command, "r");
  }
  for (size_t i = 0; i < ENGINES; i++) good = engines[i] != NULL && pclose(engines[i]) == 0 && good;
  return good;
}

int main(int argc, char **argv) {
  struct knowledge knowledge;
  if (argc != 4) return 2;
  if (!knowledge_load_shipped(&knowledge, 0)) {
    knowledge_print(&knowledge);
    return 1;
  }
  network = knowledge.network;
  every = strtoul(argv[3], NULL, 10);
  if (every == 0) return 2;
  struct run *run = run_new(NULL, network);
  size_t n_cases = network->model->n_cases + strtoul(argv[2], NULL, 10);
  size_t compared = 0, differing = 0;
  double worst = 0;
  bool complete = run_engines(run, argv[1], n_cases);
  for (size_t i = 0; i < ENGINES; i++) {
    char path[500];
    snprintf(path, sizeof path, "%s/chaining_%zu.out", argv[1], i);
    FILE *in = fopen(path, "r");
    if (in == NULL) return 2;
    differing += compare(run, in, n_cases, &worst, &compared);
    fclose(in);
  }
  complete = complete && compared == (n_cases + every - 1) / every * network->model->n_claims;
  printf("# every %zu. of %zu cases, %zu certainties, largest difference %.3g\n", every, n_cases,
         compared, worst);
  printf("%s 1 - every certainty was compared\n", complete ? "ok" : "not ok");
  printf("%s 2 - no certainty differs by more than 1e-9\n", differing == 0 ? "ok" : "not ok");
  run_free(run);
  knowledge_free(&knowledge);
  return complete && differing == 0 ? 0 : 1;
}
