/* What guards a player cannot be laid over: an upper layer may add rules that raise a red flag, and
 * word one anew, but neither takes it away. Told from the entries as they stand, before any layer
 * is laid over another. */
#include <string.h>

#include "model/reader.h"

struct guard {
  struct reader *reader;
  const struct entry *entries;
  size_t n;
};

/* The finding of a layer below that carries a red flag, or NULL. */
static const struct entry *flag_below(const struct guard *guard, const char *name, unsigned layer) {
  for (size_t i = 0; i < guard->n; i++) {
    const struct entry *entry = &guard->entries[i];
    if (entry->kind == ENTRY_FINDING && entry->layer < layer && strcmp(entry->name, name) == 0 &&
        node_get(entry->node, "red_flag"))
      return entry;
  }
  return NULL;
}

static bool is_against(const struct node *strength) {
  return strength->kind == NODE_SCALAR && strength->text[0] == '-';
}

/* What the rule concludes, first of the flags below this layer; against: only what it speaks
 * against. */
static const struct entry *flag_of(const struct guard *guard, const struct node *rule,
                                   unsigned layer, bool against) {
  const struct node *then = node_get(rule, "then");
  for (const struct node *one = then && then->kind == NODE_MAP ? then->first : NULL; one;
       one = one->next) {
    const struct entry *flag = flag_below(guard, one->key, layer);
    if (flag && is_against(one) == against) return flag;
  }
  return NULL;
}

static void refuse(const struct guard *guard, const struct entry *entry, const char *what,
                   const struct entry *flag) {
  struct diag *diag = DIAG(guard->reader->diags, RED_FLAG_GUARDED, entry->at,
                           entry_kind_word(entry->kind), entry->name, what, flag->name);
  diag_note(guard->reader->diags, diag, flag->at, "the red flag stands here");
}

/* The entry of a layer below that this one replaces, or NULL. */
static const struct entry *beneath(const struct guard *guard, const struct entry *entry) {
  for (size_t i = 0; i < guard->n; i++) {
    const struct entry *other = &guard->entries[i];
    if (other->kind == entry->kind && other->layer < entry->layer &&
        strcmp(other->name, entry->name) == 0)
      return other;
  }
  return NULL;
}

static void judge_rule(const struct guard *guard, const struct entry *entry) {
  const struct entry *below = beneath(guard, entry);
  const struct entry *raised = below ? flag_of(guard, below->node, entry->layer, false) : NULL;
  const struct entry *argued = flag_of(guard, entry->node, entry->layer, true);
  if (raised) refuse(guard, entry, "takes the place of a rule that raises", raised);
  if (argued) refuse(guard, entry, "speaks against", argued);
}

static void judge_finding(const struct guard *guard, const struct entry *entry) {
  const struct entry *flag = flag_below(guard, entry->name, entry->layer);
  if (flag && !node_get(entry->node, "red_flag")) refuse(guard, entry, "takes away", flag);
}

void guard_red_flags(struct reader *reader, const struct entry *entries, size_t n) {
  struct guard guard = {reader, entries, n};
  for (size_t i = 0; i < n; i++) {
    if (entries[i].layer == 0) continue;
    if (entries[i].kind == ENTRY_RULE) judge_rule(&guard, &entries[i]);
    if (entries[i].kind == ENTRY_FINDING) judge_finding(&guard, &entries[i]);
  }
}
