/* Knowledge for tests: the shipped one or directories of one's own, from files in any order, and
 * seeded random cases on it. Test code only. */
#ifndef TESTS_SUPPORT_KNOWLEDGE_H
#define TESTS_SUPPORT_KNOWLEDGE_H

#include <stdint.h>

#include "run/run.h"

struct knowledge {
  struct arena *arena;
  struct diags diags;
  const struct model *model;
  const struct network *network;
};

/* Reads all *.yaml files under the directories (NULL-ended), kb/cases too. When seed is not 0 the
 * files are read in a shuffled order. model and network are NULL after an error; see
 * knowledge_print. */
bool knowledge_load(struct knowledge *knowledge, const char *const *directories, uint64_t seed);
/* The shipped knowledge: rules/ and kb/ of the working directory. */
bool knowledge_load_shipped(struct knowledge *knowledge, uint64_t seed);
/* The files of rules/ and kb/, by path. */
struct knowledge_files {
  struct model_file *at;
  size_t n;
};
struct knowledge_files knowledge_shipped_files(struct arena *arena);
/* Reads one text as a file of knowledge. */
bool knowledge_load_text(struct knowledge *knowledge, const char *yaml);
void knowledge_print(struct knowledge *knowledge);
void knowledge_free(struct knowledge *knowledge);

/* splitmix64: good enough to draw cases with, the same on every machine. */
uint64_t random_next(uint64_t *state);
/* Uniform in [0, 1). */
double random_uniform(uint64_t *state);
/* Gives about `n` random evidences: numbers mostly within a third of the plausible range, choices
 * evenly, in random hand. */
void random_case(struct run *run, uint64_t *state, size_t n);
/* Gives all evidence of a worked case. */
void worked_case_give(struct run *run, const struct worked_case *worked);

#endif
