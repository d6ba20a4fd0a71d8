/* Flights through the public library: whymiss.h only, on the shipped vocabulary without any rule,
 * since no flight needs one. */
#include "whymiss.h"

#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"

enum { FILES_MAX = 32, OUTPUT_ROOM = 1 << 17 };

/* ---- knowledge ---- */

static wm_kb *kb;

static struct wm_file read_file(const char *path) {
  FILE *file = fopen(path, "rb");
  char *bytes = malloc(1 << 18);
  if (!file || !bytes) fail_msg("cannot read %s", path);
  size_t n = fread(bytes, 1, 1 << 18, file);
  fclose(file);
  return (struct wm_file){.name = strdup(path), .bytes = bytes, .n = n};
}

static int load(void **state) {
  struct wm_file files[FILES_MAX] = {read_file("kb/clubs.yaml"), read_file("kb/sources.yaml")};
  size_t n = 2;
  DIR *directory = opendir("kb/evidence");
  wm_diags *diags = wm_diags_new(NULL);
  (void)state;
  for (struct dirent *entry; directory && (entry = readdir(directory)) != NULL;) {
    char path[512];
    snprintf(path, sizeof path, "kb/evidence/%s", entry->d_name);
    if (strstr(entry->d_name, ".yaml") && n < FILES_MAX) files[n++] = read_file(path);
  }
  closedir(directory);
  enum wm_status status = wm_kb_load_memory(&kb, files, n, NULL, diags);
  for (size_t i = 0; i < n; i++) {
    free((void *)(size_t)files[i].name);
    free((void *)(size_t)files[i].bytes);
  }
  wm_diags_free(diags);
  return status == WM_OK ? 0 : -1;
}

static int unload(void **state) {
  (void)state;
  wm_kb_free(kb);
  return 0;
}

/* ---- cases ---- */

static wm_case *case_of(enum wm_hand hand, const char *words) {
  wm_case *player = NULL;
  assert_int_equal(wm_case_new(&player, kb, NULL), WM_OK);
  assert_int_equal(wm_case_set_hand(player, hand), WM_OK);
  char copy[512];
  snprintf(copy, sizeof copy, "%s", words);
  for (char *word = strtok(copy, " "); word; word = strtok(NULL, " "))
    assert_int_equal(wm_case_give(player, word, NULL, NULL), WM_OK);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  return player;
}

static struct wm_flight flight_in(const struct wm_conditions *conditions, enum wm_hand hand,
                                  const char *words) {
  struct wm_flight flight;
  wm_case *player = case_of(hand, words);
  assert_int_equal(wm_case_flight(player, conditions, &flight), WM_OK);
  wm_case_free(player);
  return flight; /* its path is gone */
}

static struct wm_flight flight_of(const char *words) {
  return flight_in(NULL, WM_RIGHT, words);
}

static void assert_near(double a, double b, double within) {
  if (!(fabs(a - b) <= within)) fail_msg("%.12g is not %.12g +/- %g", a, b, within);
}

static const char *const eight_iron =
    "club=8i club_speed=72mph ball_speed=88mph face=1 path=-5 attack=-4 delivered_loft=30 strike=9 "
    "strike_height=-3";
static const char *const ball_alone =
    "ball_speed=88mph launch=22 backspin=7000 start=-1.5 axis_tilt=8";

/* ---- figures ---- */

/* The engine's derived evidence and the flight are one arithmetic. */
static void wm_case_flight__agrees_with_the_derived_readings(void **state) {
  (void)state;
  size_t n;
  wm_case *player = case_of(WM_RIGHT, ball_alone);
  struct wm_flight flight;
  assert_int_equal(wm_case_flight(player, NULL, &flight), WM_OK);
  const struct wm_reading *readings = wm_case_readings(player, &n);
  const struct {
    const char *name;
    struct wm_figure figure;
  } same[] = {{"carry", flight.carry},
              {"offline", flight.side},
              {"apex", flight.apex},
              {"curve", flight.curve_angle},
              {"landing_angle", flight.landing_angle}};
  for (size_t i = 0; i < COUNT_OF(same); i++)
    for (size_t k = 0; k < n; k++)
      if (strcmp(readings[k].name, same[i].name) == 0) {
        assert_near(same[i].figure.value, readings[k].number, 1e-9);
        assert_near(same[i].figure.error, readings[k].error, 0.05 * readings[k].error);
      }
  wm_case_free(player);
}

/* practice: 88 mph, 22 deg, somewhat spinny: about 111 yd, read as +/- 3. */
static void wm_case_flight__carries_the_eight_iron(void **state) {
  (void)state;
  struct wm_flight flight =
      flight_of("ball_speed=88mph launch=22 backspin=7000 start=0 axis_tilt=0");
  assert_near(flight.carry.value / 0.9144, 111, 3);
  assert_true(flight.carry.error > 3 && flight.carry.error < 8);
  assert_false(flight.usual);
  assert_true(isnan(flight.expected_ball_speed.value));
}

static void wm_case_flight__tells_expected_against_given(void **state) {
  (void)state;
  struct wm_flight flight = flight_of(eight_iron);
  assert_near(flight.expected_ball_speed.value - 88 * 0.44704, flight.ball_speed_short.value, 1e-9);
  assert_true(flight.ball_speed_short.value > 1 && flight.carry_short.value > 3);
  assert_true(flight.ball_speed_short.error > 0.5);
  assert_true(flight.face_to_path_zero.ball_speed.value > 0);
  assert_true(flight.centred_strike.carry.value > 0);
  assert_true(flight.centred_strike.carry.error > 0);
}

static void wm_case_flight__never_a_value_without_its_error(void **state) {
  (void)state;
  struct wm_flight flight = flight_of(eight_iron);
  const struct wm_figure figures[] = {flight.carry,
                                      flight.side,
                                      flight.curve,
                                      flight.apex,
                                      flight.time,
                                      flight.curve_angle,
                                      flight.landing_angle,
                                      flight.landing_speed,
                                      flight.landing_spin,
                                      flight.expected_ball_speed,
                                      flight.expected_carry,
                                      flight.ball_speed_short,
                                      flight.carry_short,
                                      flight.face_to_path_zero.ball_speed,
                                      flight.face_to_path_zero.carry,
                                      flight.face_to_path_zero.side,
                                      flight.centred_strike.ball_speed,
                                      flight.centred_strike.carry,
                                      flight.centred_strike.side};
  for (size_t i = 0; i < COUNT_OF(figures); i++) {
    assert_true(isfinite(figures[i].value));
    assert_true(figures[i].error > 0);
  }
}

static void wm_case_flight__is_not_known_from_too_little(void **state) {
  (void)state;
  struct wm_flight flight = flight_of("club=8i");
  assert_int_equal(flight.n_path, 0);
  assert_true(isnan(flight.carry.value) && isnan(flight.carry.error));
  flight = flight_of("club=8i club_speed=72mph");
  assert_true(flight.n_path > 20 && flight.usual);
  assert_true(isnan(flight.side.value));
}

static void wm_case_flight__path_ends_where_it_lands(void **state) {
  (void)state;
  struct wm_flight flight;
  wm_case *player = case_of(WM_RIGHT, ball_alone);
  assert_int_equal(wm_case_flight(player, NULL, &flight), WM_OK);
  const struct wm_flight_point *first = flight.path, *last = &flight.path[flight.n_path - 1];
  assert_true(first->time == 0 && first->distance == 0 && first->height == 0);
  assert_near(first->speed, 88 * 0.44704, 1e-9);
  assert_near(hypot(last->distance, last->right), flight.carry.value, 1e-9);
  assert_near(last->right, flight.side.value, 1e-9);
  assert_near(last->time, flight.time.value, 1e-9);
  assert_near(last->height, 0, 1e-9);
  wm_case_free(player);
}

/* ---- hand and units ---- */

static void assert_mirrored(struct wm_figure a, struct wm_figure b) {
  assert_true(a.value == -b.value || (isnan(a.value) && isnan(b.value)));
  assert_true(a.error == b.error || (isnan(a.error) && isnan(b.error)));
}

static void assert_same(struct wm_figure a, struct wm_figure b) {
  assert_true(a.value == b.value || (isnan(a.value) && isnan(b.value)));
  assert_true(a.error == b.error || (isnan(a.error) && isnan(b.error)));
}

static void assert_mirror_image(const struct wm_flight *right, const struct wm_flight *left) {
  assert_same(right->carry, left->carry);
  assert_same(right->apex, left->apex);
  assert_same(right->landing_spin, left->landing_spin);
  assert_same(right->carry_short, left->carry_short);
  assert_same(right->face_to_path_zero.carry, left->face_to_path_zero.carry);
  assert_same(right->centred_strike.carry, left->centred_strike.carry);
  assert_mirrored(right->side, left->side);
  assert_mirrored(right->curve, left->curve);
  assert_mirrored(right->curve_angle, left->curve_angle);
  assert_mirrored(right->face_to_path_zero.side, left->face_to_path_zero.side);
  assert_mirrored(right->centred_strike.side, left->centred_strike.side);
}

static double drawn(uint64_t *seed, double low, double high) {
  *seed ^= *seed << 13;
  *seed ^= *seed >> 7;
  *seed ^= *seed << 17;
  return low + (high - low) * ((double)(*seed >> 11) / 9007199254740992.0);
}

/* Any impact told by a left-handed player flies as the mirror image, to the last bit; the strike is
 * toward heel or toe for either. */
static void wm_case_flight__left_handed_is_the_mirror_image(void **state) {
  (void)state;
  uint64_t seed = 88172645463325252u;
  for (int i = 0; i < 20; i++) {
    static const char *const clubs[] = {"driver", "5w", "4h", "7i", "pw", "sw"};
    double face = drawn(&seed, -5, 5), path = drawn(&seed, -7, 7), strike = drawn(&seed, -20, 20);
    char right[256], left[256];
    const char *club = clubs[i % COUNT_OF(clubs)];
    double speed = drawn(&seed, 28, 46);
    snprintf(right, sizeof right, "club=%s club_speed=%.3f face=%.3f path=%.3f strike=%.2f", club,
             speed, face, path, strike);
    snprintf(left, sizeof left, "club=%s club_speed=%.3f face=%.3f path=%.3f strike=%.2f", club,
             speed, -face, -path, strike);
    struct wm_flight a = flight_in(NULL, WM_RIGHT, right), b = flight_in(NULL, WM_LEFT, left);
    assert_true(isfinite(a.side.value));
    assert_mirror_image(&a, &b);
  }
}

static void wm_case_flight__wind_from_the_left_is_no_matter_of_hand(void **state) {
  (void)state;
  struct wm_conditions conditions = wm_conditions_usual();
  const char *words = "ball_speed=40 launch=20 backspin=5000 start=0 axis_tilt=0";
  assert_int_equal(wm_conditions_read(&conditions, "wind", "6 m/s left", NULL, NULL), WM_OK);
  struct wm_flight right = flight_in(&conditions, WM_RIGHT, words);
  struct wm_flight left = flight_in(&conditions, WM_LEFT, words);
  assert_true(right.side.value > 2);
  assert_true(right.side.value == left.side.value);
}

/* The same case in other units: each number is written in the unit with all its digits. */
static void wm_case_flight__units_change_nothing(void **state) {
  (void)state;
  uint64_t seed = 362436069362436069u;
  for (int i = 0; i < 20; i++) {
    char base[256], other[256];
    double speed = drawn(&seed, 30, 70), launch = drawn(&seed, 8, 30),
           spin = drawn(&seed, 2000, 8000);
    snprintf(base, sizeof base, "ball_speed=%.17g launch=%.17g backspin=%.17g start=2 axis_tilt=-5",
             speed, launch, spin);
    snprintf(other, sizeof other,
             "ball_speed=%.17gmph launch=%.17gdeg backspin=%.17grpm start=2deg axis_tilt=-5deg",
             speed / 0.44704, launch, spin);
    struct wm_flight a = flight_of(base), b = flight_of(other);
    assert_near(a.carry.value, b.carry.value, 1e-9);
    assert_near(a.side.value, b.side.value, 1e-9);
    snprintf(other, sizeof other,
             "ball_speed=%.17gkm/h launch=%.17g backspin=%.17g start=2 axis_tilt=-5", speed * 3.6,
             launch, spin);
    assert_near(flight_of(other).carry.value, a.carry.value, 1e-9);
  }
}

/* ---- conditions ---- */

static void wm_conditions_read__knows_where_the_wind_comes_from(void **state) {
  (void)state;
  const struct {
    const char *text;
    double tail, cross;
  } winds[] = {{"5 ahead", -5, 0},    {"5 m/s behind", 5, 0},
               {"18km/h left", 0, 5}, {"10 mph right", 0, -4.4704},
               {"5 0", -5, 0},        {"5 90", 0, -5},
               {"5 180", 5, 0},       {"5 -90", 0, 5},
               {"0 left", 0, 0},      {"10 60", -5, -8.660254038}};
  for (size_t i = 0; i < COUNT_OF(winds); i++) {
    struct wm_conditions conditions = wm_conditions_usual();
    assert_int_equal(wm_conditions_read(&conditions, "wind", winds[i].text, NULL, NULL), WM_OK);
    assert_near(conditions.tail_wind, winds[i].tail, 1e-9);
    assert_near(conditions.cross_wind, winds[i].cross, 1e-9);
  }
}

static void wm_conditions_read__refuses_what_it_does_not_understand(void **state) {
  (void)state;
  static const char *const bad[][2] = {
      {"wind", ""},           {"wind", "5"},        {"wind", "left"},      {"wind", "5 lft"},
      {"wind", "90 ahead"},   {"wind", "5 400"},    {"wind", "5kg left"},  {"wind", "nan left"},
      {"model", "blnd"},      {"model", ""},        {"temperature", "90"}, {"temperature", "x"},
      {"temperature", "5 m"}, {"altitude", "9000"}, {"altitude", ""},      {"moon", "5"}};
  for (size_t i = 0; i < COUNT_OF(bad); i++) {
    struct wm_conditions conditions = wm_conditions_usual(), before = conditions;
    wm_diags *diags = wm_diags_new(NULL);
    if (wm_conditions_read(&conditions, bad[i][0], bad[i][1], NULL, diags) != WM_INPUT_FAULTY)
      fail_msg("%s '%s' was taken", bad[i][0], bad[i][1]);
    assert_int_equal(wm_diags_errors(diags), 1);
    assert_memory_equal(&conditions, &before, sizeof before);
    wm_diags_free(diags);
  }
}

static void wm_case_flight__air_and_wind_act_as_they_should(void **state) {
  (void)state;
  struct wm_conditions usual = wm_conditions_usual(), warm = usual, high = usual, head = usual,
                       tail = usual, old = usual;
  double still = flight_in(&usual, WM_RIGHT, ball_alone).carry.value;
  warm.temperature = 35;
  high.altitude = 1609;
  old.model = "smits1994";
  assert_int_equal(wm_conditions_read(&head, "wind", "5 ahead", NULL, NULL), WM_OK);
  assert_int_equal(wm_conditions_read(&tail, "wind", "5 behind", NULL, NULL), WM_OK);
  assert_true(flight_in(&warm, WM_RIGHT, ball_alone).carry.value > still + 1);
  assert_true(flight_in(&high, WM_RIGHT, ball_alone).carry.value > still + 3);
  assert_true(flight_in(&old, WM_RIGHT, ball_alone).carry.value > still + 8);
  double cost = still - flight_in(&head, WM_RIGHT, ball_alone).carry.value;
  double gain = flight_in(&tail, WM_RIGHT, ball_alone).carry.value - still;
  assert_true(gain > 3 && cost > gain);
}

static void wm_case_flight__wind_given_as_evidence_counts(void **state) {
  (void)state;
  double still = flight_of(ball_alone).carry.value;
  struct wm_flight windy = flight_of(
      "ball_speed=88mph launch=22 backspin=7000 start=-1.5 axis_tilt=8 wind=head wind_speed=5");
  assert_true(windy.carry.value < still - 3);
  struct wm_flight right = flight_in(NULL, WM_RIGHT,
                                     "ball_speed=40 launch=20 backspin=5000 start=0 axis_tilt=0 "
                                     "wind=from_left wind_speed=6");
  struct wm_flight left = flight_in(NULL, WM_LEFT,
                                    "ball_speed=40 launch=20 backspin=5000 start=0 axis_tilt=0 "
                                    "wind=from_left wind_speed=6");
  assert_true(right.side.value > 2);
  assert_true(right.side.value == left.side.value);
}

/* ---- the flight alone ---- */

static const struct wm_impact_range *range_called(const struct wm_flight *flight,
                                                  const char *name) {
  for (size_t i = 0; i < flight->n_ranges; i++)
    if (strcmp(flight->ranges[i].name, name) == 0) return &flight->ranges[i];
  return NULL;
}

static void wm_case_flight__words_give_ranges_and_what_stays_open(void **state) {
  (void)state;
  struct wm_flight flight = flight_of("club=7i start=left curve=right");
  const struct wm_impact_range *path = range_called(&flight, "path"),
                               *face = range_called(&flight, "face");
  assert_non_null(path);
  assert_true(path->high < 0 && path->low > -15 && path->value < face->value);
  assert_false(path->open);
  assert_true(range_called(&flight, "strike")->open);
  assert_true(range_called(&flight, "club_speed")->open);
  struct wm_flight low = flight_of("club=7i start=left curve=right height=low");
  assert_true(range_called(&low, "delivered_loft")->value <
              range_called(&flight, "delivered_loft")->value - 1);
  struct wm_flight left = flight_in(NULL, WM_LEFT, "club=7i start=right curve=left");
  const struct wm_impact_range *turned = range_called(&left, "path");
  assert_true(turned->low == -path->high && turned->high == -path->low);
  assert_true(turned->value == -path->value && turned->error == path->error);
}

static void wm_case_flight__gives_no_ranges_beside_a_device(void **state) {
  (void)state;
  assert_int_equal(flight_of("club=7i start=left curve=right path=-4").n_ranges, 0);
  assert_int_equal(flight_of("club=7i start=-4 axis_tilt=8").n_ranges, 0);
  assert_int_equal(flight_of("start=left curve=right").n_ranges, 0);
  assert_int_equal(flight_of("club=7i").n_ranges, 0);
}

/* ---- pages ---- */

struct output {
  char bytes[OUTPUT_ROOM];
  size_t n;
};

static int collect(void *context, const char *bytes, size_t n) {
  struct output *output = context;
  if (n >= OUTPUT_ROOM - output->n) return -1;
  memcpy(output->bytes + output->n, bytes, n);
  output->n += n;
  output->bytes[output->n] = '\0';
  return 0;
}

static int refuse(void *context, const char *bytes, size_t n) {
  (void)context, (void)bytes, (void)n;
  return -1;
}

static void assert_writes(wm_case *player, enum wm_flight_view view, enum wm_format format,
                          const char *start, const char *within) {
  static struct output output;
  output.n = 0;
  assert_int_equal(wm_case_write_flight(player, NULL, view, format, collect, &output, NULL), WM_OK);
  assert_int_equal(strncmp(output.bytes, start, strlen(start)), 0);
  assert_non_null(strstr(output.bytes, within));
}

static void wm_case_write_flight__writes_every_view(void **state) {
  (void)state;
  wm_case *player = case_of(WM_RIGHT, eight_iron);
  assert_writes(player, WM_FLIGHT_FIGURES, WM_TEXT, "Given     8 iron",
                "of what this club speed gives");
  assert_writes(player, WM_FLIGHT_FIGURES, WM_EMPHASIS, "\x1b[1mGiven\x1b[0m     8 iron", "Flight");
  assert_writes(player, WM_FLIGHT_FIGURES, WM_JSON, "{", "\"schema\": \"whymiss-flight\"");
  assert_writes(player, WM_FLIGHT_PATH, WM_TEXT, "time_s,distance_m,", "0.050,");
  assert_writes(player, WM_FLIGHT_PLOT, WM_TEXT, "From the side", "From above");
  assert_writes(player, WM_FLIGHT_SVG, WM_TEXT, "<svg xmlns=", "</svg>");
  assert_int_equal(wm_case_write_flight(player, NULL, WM_FLIGHT_PLOT, WM_TEXT, refuse, NULL, NULL),
                   WM_INTERNAL);
  wm_case_free(player);
}

static void wm_case_write_flight__a_picture_needs_a_flight(void **state) {
  (void)state;
  static struct output output;
  static const enum wm_flight_view views[] = {WM_FLIGHT_PATH, WM_FLIGHT_PLOT, WM_FLIGHT_SVG};
  wm_case *player = case_of(WM_RIGHT, "club=8i");
  for (size_t i = 0; i < COUNT_OF(views); i++) {
    struct wm_diag diag;
    wm_diags *diags = wm_diags_new(NULL);
    assert_int_equal(wm_case_write_flight(player, NULL, views[i], WM_TEXT, collect, &output, diags),
                     WM_INPUT_FAULTY);
    assert_true(wm_diags_get(diags, 0, &diag));
    assert_string_equal(diag.code, "no-flight");
    wm_diags_free(diags);
  }
  assert_int_equal(output.n, 0);
  wm_case_free(player);
}

static void wm_case_flight__refuses_misuse(void **state) {
  (void)state;
  struct wm_flight flight;
  struct wm_conditions conditions = wm_conditions_usual();
  wm_case *player = NULL;
  assert_int_equal(wm_case_new(&player, kb, NULL), WM_OK);
  assert_int_equal(wm_case_flight(player, NULL, &flight), WM_USAGE); /* not run */
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(wm_case_flight(NULL, NULL, &flight), WM_USAGE);
  assert_int_equal(wm_case_flight(player, NULL, NULL), WM_USAGE);
  assert_int_equal(wm_case_write_flight(player, NULL, WM_FLIGHT_SVG, WM_TEXT, NULL, NULL, NULL),
                   WM_USAGE);
  conditions.model = "moon";
  assert_int_equal(wm_case_flight(player, &conditions, &flight), WM_USAGE);
  conditions = wm_conditions_usual();
  conditions.altitude = NAN;
  assert_int_equal(wm_case_flight(player, &conditions, &flight), WM_USAGE);
  conditions = wm_conditions_usual();
  conditions.tail_wind = 80;
  assert_int_equal(wm_case_flight(player, &conditions, &flight), WM_USAGE);
  assert_int_equal(wm_conditions_read(NULL, "wind", "5 left", NULL, NULL), WM_USAGE);
  wm_case_free(player);
}

/* ---- residuals ---- */

static void wm_residual__the_blend_meets_every_row_that_concerns_it(void **state) {
  (void)state;
  struct wm_residual residual;
  size_t n = 0, missed_by_others = 0;
  for (; wm_residual(n, "blend", &residual); n++) {
    if (residual.concerns && !residual.meets) fail_msg("the blend misses '%s'", residual.what);
    assert_true(strlen(residual.source) > 0 && strlen(residual.status) > 0);
    for (size_t i = 0; i < 2; i++) {
      struct wm_residual other;
      assert_true(wm_residual(n, i ? "lyu2018" : "smits1994", &other));
      missed_by_others += other.concerns && !other.meets;
    }
  }
  assert_true(n >= 22);
  assert_true(missed_by_others > 5); /* the reason for a blend */
  assert_false(wm_residual(0, "moon", &residual));
  assert_false(wm_residual(0, NULL, &residual));
}

/* ---- memory ---- */

static int swallow(void *context, const char *bytes, size_t n) {
  (void)context, (void)bytes, (void)n;
  return 0;
}

static enum wm_status fly_with(const struct wm_allocator *allocator) {
  struct wm_flight flight;
  wm_case *player = NULL;
  wm_diags *diags = wm_diags_new(allocator);
  if (!diags) return WM_INTERNAL;
  enum wm_status status = wm_case_new(&player, kb, allocator);
  if (status == WM_OK) status = wm_case_give_number(player, "ball_speed", 40, -1, 0, diags);
  if (status == WM_OK) status = wm_case_give_choice(player, "club", "8i", 1, diags);
  if (status == WM_OK) status = wm_case_run(player, diags);
  if (status == WM_OK) status = wm_case_flight(player, NULL, &flight);
  for (int view = WM_FLIGHT_FIGURES; status == WM_OK && view <= WM_FLIGHT_SVG; view++)
    status = wm_case_write_flight(player, NULL, (enum wm_flight_view)view, WM_TEXT, swallow, NULL,
                                  diags);
  if (status == WM_OK)
    status = wm_case_write_flight(player, NULL, WM_FLIGHT_FIGURES, WM_JSON, swallow, NULL, diags);
  wm_case_free(player);
  wm_diags_free(diags);
  return status;
}

static void any_failure_of_memory__is_told(void **state) {
  (void)state;
  for (size_t n = 1;; n++) {
    struct failing_allocator failing;
    failing_allocator_init(&failing, n, false);
    enum wm_status status = fly_with(&failing.allocator);
    assert_int_equal(failing.bytes, 0);
    if (!failing_allocator_reached(&failing)) {
      assert_int_equal(status, WM_OK);
      assert_true(n > 20);
      return;
    }
    if (status != WM_INTERNAL) fail_msg("taking %zu failed, and the status is %d", n, (int)status);
  }
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(wm_case_flight__agrees_with_the_derived_readings),
      cmocka_unit_test(wm_case_flight__carries_the_eight_iron),
      cmocka_unit_test(wm_case_flight__tells_expected_against_given),
      cmocka_unit_test(wm_case_flight__never_a_value_without_its_error),
      cmocka_unit_test(wm_case_flight__is_not_known_from_too_little),
      cmocka_unit_test(wm_case_flight__path_ends_where_it_lands),
      cmocka_unit_test(wm_case_flight__left_handed_is_the_mirror_image),
      cmocka_unit_test(wm_case_flight__wind_from_the_left_is_no_matter_of_hand),
      cmocka_unit_test(wm_case_flight__units_change_nothing),
      cmocka_unit_test(wm_conditions_read__knows_where_the_wind_comes_from),
      cmocka_unit_test(wm_conditions_read__refuses_what_it_does_not_understand),
      cmocka_unit_test(wm_case_flight__air_and_wind_act_as_they_should),
      cmocka_unit_test(wm_case_flight__wind_given_as_evidence_counts),
      cmocka_unit_test(wm_case_flight__words_give_ranges_and_what_stays_open),
      cmocka_unit_test(wm_case_flight__gives_no_ranges_beside_a_device),
      cmocka_unit_test(wm_case_write_flight__writes_every_view),
      cmocka_unit_test(wm_case_write_flight__a_picture_needs_a_flight),
      cmocka_unit_test(wm_case_flight__refuses_misuse),
      cmocka_unit_test(wm_residual__the_blend_meets_every_row_that_concerns_it),
      cmocka_unit_test(any_failure_of_memory__is_told),
  };
  return cmocka_run_group_tests_name("api flight", cases, load, unload);
}
