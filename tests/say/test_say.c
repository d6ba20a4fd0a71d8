/* What is understood, in a small language in which every means of the real one stands once. Each
 * row is a text and all its pieces: "evidence=value", and the use when it is not used; "-" when
 * there is none. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "say/say.h"
#include "support/cases.h"
#include "support/knowledge.h"

static struct knowledge small, shipped;

static int load(void **state) {
  (void)state;
  static const char *const directories[] = {"tests/say/small", NULL};
  if (!knowledge_load(&small, directories, 0)) {
    knowledge_print(&small);
    return -1;
  }
  return knowledge_load_shipped(&shipped, 0) ? 0 : -1;
}

static int unload(void **state) {
  (void)state;
  knowledge_free(&small);
  knowledge_free(&shipped);
  return 0;
}

static struct understanding understand_in(struct knowledge *knowledge, const char *text, size_t n,
                                          enum hand hand, const char *club) {
  struct understanding said;
  struct source *source = arena_new_object(knowledge->arena, struct source);
  const struct model *model = knowledge->model;
  uint32_t index = club ? names_find(model->club_names, club, strlen(club)) : NAMES_NONE;
  *source = (struct source){.name = "words", .bytes = text, .n = n};
  assert_true(say_understand(knowledge->arena, &knowledge->diags, model, source, hand,
                             index == NAMES_NONE ? NO_INDEX : index, &said));
  return said;
}

static void print_piece(struct text *out, const struct model *model,
                        const struct say_piece *piece) {
  const struct evidence *evidence = &model->evidence[piece->evidence];
  text_format(out, "%s%s", out->n > 0 ? "; " : "", evidence->name);
  if (piece->word || piece->value.typed) text_add(out, "=");
  if (evidence->kind == EVIDENCE_NUMBER && piece->value.typed) {
    text_number(out, piece->value.number);
  } else if (piece->word) {
    text_add(out, evidence->choices[piece->value.choice].name);
  }
  if (piece->use != SAY_USED) text_format(out, " %s", say_use_word(piece->use));
}

static const char *pieces_of(const char *text, enum hand hand, const char *club) {
  struct understanding said = understand_in(&small, text, strlen(text), hand, club);
  struct text out;
  text_init(&out, small.arena);
  for (size_t i = 0; i < said.n_pieces; i++) print_piece(&out, small.model, &said.pieces[i]);
  return out.n > 0 ? text_done(&out) : "-";
}

struct row {
  const char *text, *pieces;
};

static void check_for(const struct row *rows, size_t n, enum hand hand, const char *club) {
  for (size_t i = 0; i < n; i++) {
    const char *got = pieces_of(rows[i].text, hand, club);
    if (strcmp(got, rows[i].pieces) != 0)
      fail_msg("\"%s\": expected \"%s\", got \"%s\"", rows[i].text, rows[i].pieces, got);
  }
}

#define CHECK(rows) check_for(rows, COUNT_OF(rows), HAND_RIGHT, NULL)

static void understand__finds_whole_words(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"i slice it", "curve=8"},
      {"SLICING!", "curve=8"},
      {"a slicer", "-"},
      {"", "-"},
      {"nothing of use", "-"},
      {"a slice of bread", "-"},
      {"a slice, with bread", "curve=8"},
  };
  CHECK(rows);
}

static void understand__prefers_the_longest(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"a pull hook", "curve=-8; start=-4"},
      {"a pull-hook", "curve=-8; start=-4"},
      {"pulls. hook", "start=-4; curve=-8"},
  };
  CHECK(rows);
}

static void understand__leaves_out_what_is_turned(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"i never slice", "curve=8 denied"},
      {"the slice is gone", "curve=8 denied"},
      {"i used to slice", "curve=8 past"},
      {"i sliced and hook last year", "curve=-8 past"},
      {"my friend slices", "-"},
      {"my friend slice it", "curve=8 other"},
      {"i want to hook it", "curve=-8 wish"},
      {"my slice is fine", "curve=8 well"},
      {"can't stop hooking", "curve=-8"},
      {"i don\xe2\x80\x99t slice", "curve=8 denied"},
  };
  static const struct row more[] = {{"my friend hooks", "curve=-8 other"}};
  check_for(rows, 4, HAND_RIGHT, NULL);
  check_for(rows + 5, COUNT_OF(rows) - 5, HAND_RIGHT, NULL);
  CHECK(more);
}

static void understand__turns_only_within_the_clause(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"no pain but thin", "pain=no; contact=thin"},
      {"no pain, thin", "pain=no; contact=thin"},
      {"no fat, thin or toe", "contact=fat denied; contact=thin denied; strike=15 denied"},
      {"i used to hook. now thin", "curve=-8 past; contact=thin"},
      {"never fat\nthin", "contact=fat denied; contact=thin"},
      {"thin, never", "contact=thin"},
  };
  CHECK(rows);
}

static void understand__takes_a_denial_that_is_a_value(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"it hurts", "pain=yes"},       {"no pain", "pain=no"},      {"it does not curve", "curve=0"},
      {"the curve of the ball", "-"}, {"pain is gone", "pain=no"},
  };
  CHECK(rows);
}

static void understand__keeps_circumstances(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"i never slice my driver", "curve=8 denied; club=driver"},
      {"my driver is fine", "club=driver well"},
      {"i used to slice my driver", "curve=8 past; club=driver"},
      {"i used to slice my driver. thin 7 iron",
       "curve=8 past; club=driver past; contact=thin; club=7i"},
  };
  CHECK(rows);
}

static void understand__reads_numbers_with_side_and_unit(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"start 5 left", "start=-5"},
      {"start five right", "start=5"},
      {"start -3.5", "start=-3.5"},
      {"start minus twenty five", "start=-25"},
      {"start 3 to 5 left", "start=-4"},
      {"start 3-5 right", "start=4"},
      {"start 4,5 left", "start=-4.5"},
      {"start 5", "start no_side"},
      {"start 0", "start=0"},
      {"start 60 left", "start=-60 implausible"},
      {"ball speed 90mph", "ball_speed=40.2336"},
      {"ball speed 40 m/s", "ball_speed=40"},
      {"ball speed 40", "ball_speed no_unit"},
      {"ball speed 5 mph", "ball_speed=2.2352 implausible"},
  };
  CHECK(rows);
}

static void understand__mirrors_for_left_handers(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"i slice it", "curve=-8"},
      {"pull hook", "curve=8; start=4"},
      {"it starts a bit left", "start=-2"},
      {"it starts right", "start=4"},
      {"start 5 left", "start=-5"},
      {"start -5", "start=-5"},
      {"wind from the left", "wind=from_left"},
      {"off the toe", "strike=15"},
  };
  check_for(rows, COUNT_OF(rows), HAND_LEFT, NULL);
}

static void understand__settles_what_is_said_twice(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"slice and slices", "curve=8; curve=8 again"},
      {"a slice, a big slice", "curve=8 again; curve=12"},
      {"fat and thin", "contact=fat both; contact=both; contact=thin both"},
      {"slice or hook", "curve=8 both; two_way_miss=yes; curve=-8 both"},
      {"mostly slice, sometimes hook", "curve=8; curve=-8 lesser"},
      {"sometimes slice, sometimes hook", "curve=8 both; two_way_miss=yes; curve=-8 both"},
      {"start 5 left, it starts right", "start=-5 conflict; start=4 conflict"},
      {"start 5 left, start 6 left", "start=-5; start=-6 again"},
  };
  CHECK(rows);
}

static void understand__keeps_clubs_apart(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"slice my driver", "curve=8; club=driver"},
      {"my 7 iron and my irons", "club=7i; club_family=iron again"},
      {"seven-iron", "club=7i"},
      {"7i", "club=7i"},
      {"5 iron", "club no_such"},
      {"thin driver. slice my 7 iron",
       "contact=thin other_club; club=driver other_club; curve=8 other_club; club=7i other_club"},
  };
  static const struct row of_driver[] = {
      {"thin driver. slice my 7 iron",
       "contact=thin; club=driver; curve=8 other_club; club=7i other_club"},
      {"driver. thin. slice my irons",
       "club=driver; contact=thin; curve=8 other_club; club_family=iron other_club"},
  };
  CHECK(rows);
  check_for(of_driver, COUNT_OF(of_driver), HAND_RIGHT, "driver");
}

/* A club that is named only for what it does not do. */
static void understand__leaves_out_a_club_named_for_contrast(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"slice my driver but not my 7 iron", "curve=8; club=driver; club=7i other_club"},
      {"never thin my 7 iron. slice my driver",
       "contact=thin denied; club=7i other_club; curve=8; club=driver"},
      {"slice my driver. never my irons", "curve=8; club=driver; club_family=iron other_club"},
      /* Named with nothing turned: of both. */
      {"slice my driver. my 7 iron too", "curve=8; club=driver conflict; club=7i conflict"},
      /* What is said before any club may be of either. */
      {"thin. slice my driver. never my 7 iron",
       "contact=thin; curve=8; club=driver conflict; club=7i conflict"},
  };
  static const struct row of_iron[] = {
      {"slice my driver. never my 7 iron", "curve=8 other_club; club=driver other_club; club=7i"},
  };
  CHECK(rows);
  check_for(of_iron, COUNT_OF(of_iron), HAND_RIGHT, "7i");
}

static void understand__mends_spelling_in_place(void **state) {
  (void)state;
  const char *text = "a \"slise\", hookng";
  struct understanding said = understand_in(&small, text, strlen(text), HAND_RIGHT, NULL);
  assert_int_equal(said.n_pieces, 3);
  assert_int_equal(said.pieces[0].words.start, 3);
  assert_int_equal(said.pieces[0].words.end, 8);
  assert_int_equal(said.pieces[2].words.start, 11);
  assert_int_equal(said.pieces[2].words.end, 17);
  static const struct row rows[] = {
      {"booking", "-"}, {"hoooking", "curve=-8"}, {"hokoing", "curve=-8"}};
  CHECK(rows);
}

static const struct say_piece *first_piece(const char *text) {
  struct understanding said = understand_in(&small, text, strlen(text), HAND_RIGHT, NULL);
  assert_true(said.n_pieces > 0);
  return &said.pieces[0];
}

static void understand__shades_value_and_sureness(void **state) {
  (void)state;
  assert_float_equal(first_piece("slice")->value.error, 3 / 0.8, 1e-9);
  assert_float_equal(first_piece("big slice")->value.number, 12, 1e-9);
  assert_float_equal(first_piece("big slice")->value.error, 4.5 / 0.8, 1e-9);
  assert_float_equal(first_piece("big huge slice")->value.number, 12, 1e-9);
  assert_float_equal(first_piece("slices a bit")->value.number, 4, 1e-9);
  assert_float_equal(first_piece("a big shot that goes in a slice")->value.number, 8, 1e-9);
  assert_float_equal(first_piece("maybe thin")->value.sure, 0.45, 1e-9);
  assert_float_equal(first_piece("sometimes thin")->value.sure, 0.45, 1e-9);
  assert_float_equal(first_piece("thin")->value.sure, 0.9, 1e-9);
  assert_float_equal(first_piece("start 5 left")->value.error, 1 / 0.8, 1e-9);
  assert_float_equal(first_piece("start 3 to 7 left")->value.error, hypot(1, 2) / 0.8, 1e-9);
  assert_int_equal(first_piece("mostly thin")->words.start, 0);
}

static void understand__says_what_turned_a_piece(void **state) {
  (void)state;
  const struct say_piece *piece = first_piece("I never, ever thin or top it, or so");
  assert_int_equal(piece->use, SAY_DENIED);
  assert_int_equal(piece->because.start, 2);
  assert_int_equal(piece->because.end, 7);
}

static void understand__hears_the_hand(void **state) {
  (void)state;
  struct understanding said = understand_in(&small, "I play left-handed", 18, HAND_RIGHT, NULL);
  assert_true(said.says_hand);
  assert_int_equal(said.hand, HAND_LEFT);
  assert_int_equal(said.hand_at.column, 8);
  said = understand_in(&small, "not left handed", 15, HAND_RIGHT, NULL);
  assert_false(said.says_hand);
}

static void understand__survives_odd_bytes(void **state) {
  (void)state;
  static const char odd[] = "\xff\xfe slice \0 hook \xe2\x80 \xc2";
  struct understanding said = understand_in(&small, odd, sizeof odd - 1, HAND_RIGHT, NULL);
  assert_int_equal(said.n_pieces, 3);
  char *many = arena_take(small.arena, SAY_BYTES_MAX + 1);
  for (size_t i = 0; i < SAY_BYTES_MAX; i++) many[i] = "slise, "[i % 7];
  said = understand_in(&small, many, SAY_BYTES_MAX, HAND_RIGHT, NULL);
  assert_true(said.n_pieces > 500);
}

/* ---- the shipped phrases ---- */

static size_t count_kind(enum phrase_kind kind) {
  size_t n = 0;
  for (size_t i = 0; i < shipped.model->n_phrases; i++) n += shipped.model->phrases[i].kind == kind;
  return n;
}

static void shipped_phrases__are_many(void **state) {
  (void)state;
  assert_true(count_kind(PHRASE_MEANS) >= 150);
}

/* Every phrase that means something has an example, whose every piece lies within it and means no
 * other. */
static void shipped_phrases__have_examples(void **state) {
  (void)state;
  for (size_t i = 0; i < shipped.model->n_phrases; i++) {
    const struct phrase *phrase = &shipped.model->phrases[i];
    bool means =
        phrase->kind == PHRASE_MEANS || phrase->kind == PHRASE_HAND || phrase->kind == PHRASE_BOTH;
    if (means && phrase->n_such_as == 0) fail_msg("phrase %s has no example", phrase->name);
  }
}

/* The examples of a left-handed player are the mirror image, word for word; a sign is the player's
 * own. */
static bool has_sign(const char *text) {
  const char *sign = strchr(text, '-');
  return sign && sign[1] >= '0' && sign[1] <= '9';
}

static bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool starts_word(const char *text, size_t i, const char *word) {
  size_t n = strlen(word);
  return strncmp(text + i, word, n) == 0 && !is_letter(text[i + n]) &&
         (i == 0 || !is_letter(text[i - 1]));
}

static const char *exchange_sides(const char *text) {
  struct text out;
  text_init(&out, shipped.arena);
  for (size_t i = 0; text[i];) {
    bool left = starts_word(text, i, "left"), right = starts_word(text, i, "right");
    text_add(&out, left ? "right" : right ? "left" : "");
    if (left || right) i += left ? 4 : 5;
    else text_add_char(&out, text[i++]);
  }
  return text_done(&out);
}

static void check_mirrored(const char *example) {
  const char *other = exchange_sides(example);
  struct understanding right = understand_in(&shipped, example, strlen(example), HAND_RIGHT, NULL);
  struct understanding left = understand_in(&shipped, other, strlen(other), HAND_LEFT, NULL);
  if (right.n_pieces != left.n_pieces) fail_msg("\"%s\" and \"%s\" differ", example, other);
  for (size_t i = 0; i < right.n_pieces; i++) {
    struct value value = value_mirror(shipped.model, left.pieces[i].value);
    assert_int_equal(right.pieces[i].evidence, left.pieces[i].evidence);
    assert_int_equal(right.pieces[i].use, left.pieces[i].use);
    assert_float_equal(right.pieces[i].value.number, value.number, 1e-12);
    assert_int_equal(right.pieces[i].value.choice, value.choice);
  }
}

static void shipped_phrases__are_the_mirror_image_for_the_other_hand(void **state) {
  (void)state;
  for (size_t i = 0; i < shipped.model->n_phrases; i++) {
    const struct phrase *phrase = &shipped.model->phrases[i];
    for (size_t k = 0; k < phrase->n_such_as && phrase->kind != PHRASE_HAND; k++)
      if (!has_sign(phrase->such_as[k])) check_mirrored(phrase->such_as[k]);
  }
}

/* All patterns over long hostile texts: none gives up, so none can be made slow. */
static const char *used_of(const char *text) {
  struct understanding said = understand_in(&shipped, text, strlen(text), HAND_RIGHT, NULL);
  struct text out;
  text_init(&out, shipped.arena);
  for (size_t i = 0; i < said.n_pieces; i++)
    if (said.pieces[i].use == SAY_USED)
      text_format(&out, "%s%s", out.n > 0 ? " " : "",
                  shipped.model->evidence[said.pieces[i].evidence].name);
  return out.n > 0 ? text_done(&out) : "-";
}

/* The same word with its object or subject, and without. */
static void shipped_phrases__tell_the_trade_from_other_senses(void **state) {
  (void)state;
  static const struct row rows[] = {
      {"i draw it", "curve"},
      {"draw the curtains", "-"},
      {"we sliced the budget", "-"},
      {"i sliced the ball", "curve"},
      {"it keeps pushing right", "start"},
      {"push trolley for sale", "-"},
      {"the prices at the bar by the door are far too high", "-"},
      {"my shots of the last two hours or so are far too high", "height"},
      {"pro says swing more from the inside", "-"},
      {"the plan is to hit a fade", "-"},
      {"does a strong grip cause a hook?", "-"},
      {"is a draw better than a fade", "-"},
      {"is a sore elbow normal?", "pain pain_place"},
      {"my driver slices but my 7 iron goes dead straight", "club curve"},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++)
    if (strcmp(used_of(rows[i].text), rows[i].pieces) != 0)
      fail_msg("\"%s\": expected \"%s\", got \"%s\"", rows[i].text, rows[i].pieces,
               used_of(rows[i].text));
}

static void shipped_phrases__never_give_up(void **state) {
  (void)state;
  static const char *const seeds[] = {"a ",
                                      "is ",
                                      "5 ",
                                      "left ",
                                      "my ",
                                      "the ball ",
                                      "and ",
                                      "not ",
                                      "a bit ",
                                      "-5.5,",
                                      "five twenty ",
                                      "hit it off the ",
                                      "club face path ",
                                      "aaaa",
                                      "really very ",
                                      "in to out ",
                                      "to ",
                                      ", or "};
  for (size_t i = 0; i < COUNT_OF(seeds); i++) {
    char *text = arena_take(shipped.arena, SAY_BYTES_MAX + 1);
    size_t n = strlen(seeds[i]);
    for (size_t k = 0; k < SAY_BYTES_MAX; k++) text[k] = seeds[i][k % n];
    size_t before = shipped.diags.warnings;
    understand_in(&shipped, text, SAY_BYTES_MAX, HAND_RIGHT, NULL);
    if (shipped.diags.warnings != before) {
      knowledge_print(&shipped);
      fail_msg("a pattern gave up on \"%s\" repeated", seeds[i]);
    }
  }
}

static void understand__is_the_same_whatever_the_order_of_files(void **state) {
  (void)state;
  struct knowledge shuffled;
  assert_true(knowledge_load_shipped(&shuffled, 7));
  for (size_t i = 0; i < shipped.model->n_phrases; i++) {
    const struct phrase *phrase = &shipped.model->phrases[i];
    for (size_t k = 0; k < phrase->n_such_as; k++) {
      const char *text = phrase->such_as[k];
      struct understanding a = understand_in(&shipped, text, strlen(text), HAND_RIGHT, NULL);
      struct understanding b = understand_in(&shuffled, text, strlen(text), HAND_RIGHT, NULL);
      assert_int_equal(a.n_pieces, b.n_pieces);
      for (size_t m = 0; m < a.n_pieces; m++) {
        assert_int_equal(a.pieces[m].phrase, b.pieces[m].phrase);
        assert_true(a.pieces[m].value.number == b.pieces[m].value.number);
        assert_int_equal(a.pieces[m].use, b.pieces[m].use);
      }
    }
  }
  knowledge_free(&shuffled);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(understand__finds_whole_words),
      cmocka_unit_test(understand__prefers_the_longest),
      cmocka_unit_test(understand__leaves_out_what_is_turned),
      cmocka_unit_test(understand__turns_only_within_the_clause),
      cmocka_unit_test(understand__takes_a_denial_that_is_a_value),
      cmocka_unit_test(understand__keeps_circumstances),
      cmocka_unit_test(understand__reads_numbers_with_side_and_unit),
      cmocka_unit_test(understand__mirrors_for_left_handers),
      cmocka_unit_test(understand__settles_what_is_said_twice),
      cmocka_unit_test(understand__keeps_clubs_apart),
      cmocka_unit_test(understand__leaves_out_a_club_named_for_contrast),
      cmocka_unit_test(understand__mends_spelling_in_place),
      cmocka_unit_test(understand__shades_value_and_sureness),
      cmocka_unit_test(understand__says_what_turned_a_piece),
      cmocka_unit_test(understand__hears_the_hand),
      cmocka_unit_test(understand__survives_odd_bytes),
      cmocka_unit_test(understand__is_the_same_whatever_the_order_of_files),
      cmocka_unit_test(shipped_phrases__are_many),
      cmocka_unit_test(shipped_phrases__have_examples),
      cmocka_unit_test(shipped_phrases__are_the_mirror_image_for_the_other_hand),
      cmocka_unit_test(shipped_phrases__tell_the_trade_from_other_senses),
      cmocka_unit_test(shipped_phrases__never_give_up),
  };
  return cmocka_run_group_tests(tests, load, unload);
}
