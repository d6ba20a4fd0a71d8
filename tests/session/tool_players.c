/* Invents players with a known fault and writes what a coach would have of each: a table of shots
 * and a few things seen. `session_players N SEED DIRECTORY` writes DIRECTORY/<i>.csv and a line per
 * session on stdout: index, fault, club, what the device measures, whether what tells of the fault
 * was looked at and seen right (for the score alone), then evidence words. DIRECTORY/<i>.looks
 * holds what he would see of the rest when asked to look, DIRECTORY/<i>.again what he would say of
 * each thing after looking twice more.
 *
 * Reads no knowledge at all: what a fault does to impact is written down here from common practice,
 * apart from the rules, and was fixed before the rules were scored with it. Must stay so, or the
 * score says nothing. Impact is drawn about the fault, launched and flown by golf/, and read with
 * the errors of a device; a coach looks at some things and sees some of them wrong. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "golf/expect.h"
#include "golf/flight.h"
#include "golf/geometry.h"
#include "golf/launch.h"
#include "support/knowledge.h"

/* ---- faults ---- */

/* What a fault adds to impact, right-handed: deg, mm, share of club speed; and how it looks. */
struct fault {
  const char *name;
  double path, face, attack, loft, strike, strike_height, speed, wider_face;
  const char *seen[3];
};

static const struct fault faults[] = {
    {"weak_lead_grip", 0, 4, 0, 2, 0, 0, 0, 1, {"lead_grip=weak"}},
    {"strong_lead_grip", 0, -4, 0, -2, 0, 0, 0, 1, {"lead_grip=strong"}},
    {"weak_trail_grip", -1.5, 2, -1, 0, 0, 0, 0, 1, {"trail_grip=weak"}},
    {"strong_trail_grip", 0, -3, 0, -1, 0, 0, 0, 1, {"trail_grip=strong"}},
    {"body_aims_left", -6, -3, 0, 0, 0, 0, 0, 1, {"aim_feet=-8", "aim_shoulders=-8"}},
    {"body_aims_right", 6, 4, 0, 0, 0, 0, 0, 1, {"aim_feet=8", "aim_shoulders=8"}},
    {"shoulders_open", -4, -1, 0, 0, 0, 0, 0, 1, {"aim_shoulders=-9"}},
    {"face_aims_left", 0, -4, 0, 0, 0, 0, 0, 1, {"aim_face=-6"}},
    {"face_aims_right", 0, 4, 0, 0, 0, 0, 0, 1, {"aim_face=6"}},
    {"ball_too_forward", -3, -3, 1.5, 3, 0, -3, 0, 1, {"ball_position=8"}},
    {"ball_too_back", 3, 3, -2.5, -3, 0, 0, 0, 1, {"ball_position=-7"}},
    {"stands_too_near", 0, 0, 0, 0, -14, 0, 0, 1, {"ball_distance=near"}},
    {"stands_too_far", 0, 0, 1, 0, 14, 0, 0, 1, {"ball_distance=far"}},
    {"shaft_steepens", -5, -1, -2, 0, 7, 0, 0, 1, {"shaft_in_transition=steepens"}},
    {"shoulders_start_down", -5, -2, -1.5, 0, -3, 0, 0, 1, {"first_move_down=shoulders"}},
    {"shaft_shallows_too_much", 6, 2, 2, 0, 0, 0, 0, 1, {"shaft_in_transition=drops_behind"}},
    {"slides_forward", 4, 3, -1, 0, 0, 0, 0, 1, {"hips_slide=yes"}},
    {"straightens_up_early", 3, 3, 1.5, 0, -8, 0, 0, 1, {"hips_to_ball=yes"}},
    {"weight_stays_back", 0, 0, 3.5, 4, 0, -4, -0.02, 1, {"weight_at_impact=trail"}},
    {"releases_early", 0, 0, 3, 5, 0, -4, -0.03, 1, {"wrist_release=early"}},
    {"handle_dragged", 0, 3, -2.5, -6, 0, 0, 0, 1, {"shaft_at_impact=far_forward"}},
    {"holds_face_off", 0, 4, 0, 0, 0, 0, 0, 1, {"face_after_impact=held"}},
    {"hands_roll_over", 0, -4, 0, -1, 0, 0, 0, 1.8, {"face_after_impact=rolled"}},
    {"handle_raised", 0, 1.5, 0, 0, 8, -4, 0, 1, {"hands_height_at_impact=higher"}},
    {"face_open_at_top",
     0,
     4,
     0,
     2,
     0,
     0,
     0,
     1,
     {"face_at_top=open", "lead_wrist_at_top=bent_back"}},
    {"face_shut_at_top", 0, -4, 0, -3, 0, 0, 0, 1, {"face_at_top=shut", "lead_wrist_at_top=bowed"}},
    {"lead_arm_folds", 0, 1, 1.5, 0, 6, -5, -0.02, 1, {"lead_arm_after=folds"}},
    {"reaches_for_ball", 0, 0, 0, 0, -12, 0, 0, 1, {"arms_at_impact=reaching"}},
    {"body_clears_early",
     -4,
     3,
     0,
     0,
     0,
     0,
     0,
     1,
     {"hips_at_impact=very_open", "chest_at_impact=very_open"}},
    {"turns_too_little", -3, 0, -2, 0, 0, 0, -0.06, 1, {"body_turn=small"}},
};
#define FAULTS (sizeof faults / sizeof faults[0])

/* What a coach may look at: the sound state first; numbers are 0 when sound. */
struct look {
  const char *evidence;
  const char *states[5];
  double error; /* of a number */
};

static const struct look looks[] = {
    {"lead_grip", {"neutral", "weak", "strong"}, 0},
    {"trail_grip", {"neutral", "weak", "strong"}, 0},
    {"aim_feet", {NULL}, 2},
    {"aim_shoulders", {NULL}, 3},
    {"aim_face", {NULL}, 2},
    {"ball_position", {NULL}, 2},
    {"ball_distance", {"usual", "near", "far"}, 0},
    {"shaft_in_transition", {"keeps", "steepens", "flattens", "drops_behind"}, 0},
    {"first_move_down", {"lower_body", "together", "shoulders"}, 0},
    {"hips_slide", {"no", "yes"}, 0},
    {"hips_to_ball", {"no", "yes"}, 0},
    {"weight_at_impact", {"lead", "even", "trail"}, 0},
    {"wrist_release", {"usual", "early", "late"}, 0},
    {"shaft_at_impact", {"usual", "upright", "far_forward", "back"}, 0},
    {"face_after_impact", {"matched", "held", "rolled"}, 0},
    {"hands_height_at_impact", {"same", "higher", "lower"}, 0},
    {"face_at_top", {"square", "open", "shut"}, 0},
    {"lead_wrist_at_top", {"flat", "bent_back", "bowed"}, 0},
    {"lead_arm_after", {"long", "folds"}, 0},
    {"arms_at_impact", {"usual", "reaching", "pulled_in"}, 0},
    {"hips_at_impact", {"usual", "very_open", "hardly_open"}, 0},
    {"chest_at_impact", {"usual", "very_open", "square"}, 0},
    {"body_turn", {"full", "small"}, 0},
};
#define LOOKS (sizeof looks / sizeof looks[0])

#define LOOKED_AT 0.3   /* share of sessions in which a coach looks at any one thing */
#define FAULT_SEEN 0.9  /* at what is out of the ordinary he does */
#define SEEN_WRONG 0.08 /* and takes one state for another */

/* ---- drawing ---- */

static double normal(uint64_t *state, double sd) {
  double u = 1 - random_uniform(state), v = random_uniform(state);
  return sd * sqrt(-2 * log(u)) * cos(6.283185307179586 * v);
}

static size_t below(uint64_t *state, size_t n) {
  return (size_t)(random_uniform(state) * (double)n);
}

struct player {
  const struct fault *fault;
  const char *club;
  double loft, head_mass;
  struct golf_impact middle; /* his usual impact, fault included */
};

static void choose_club(struct player *player, uint64_t *state) {
  static const struct {
    const char *name;
    double loft, mass;
  } clubs[] = {{"7i", 33, 268}, {"7i", 33, 268}, {"driver", 10.5, 203}, {"pw", 45, 285}};
  size_t i = below(state, 4);
  player->club = clubs[i].name;
  player->loft = clubs[i].loft;
  player->head_mass = clubs[i].mass;
}

/* Sound players differ too; a fault is worth 0.8 to 1.4 of what stands in the table. */
static struct player draw_player(const struct fault *fault, uint64_t *state) {
  struct player player = {.fault = fault};
  double size = 0.8 + 0.6 * random_uniform(state);
  choose_club(&player, state);
  player.middle = (struct golf_impact){
      .club_speed = golf_expected_club_speed(player.loft) * (1 + normal(state, 0.06)) *
                    (1 + size * fault->speed),
      .path = normal(state, 1) + size * fault->path,
      .face = normal(state, 1) + size * fault->face,
      .attack = golf_expected_attack(player.loft) + normal(state, 1) + size * fault->attack,
      .delivered_loft =
          golf_expected_delivered_loft(player.loft) + normal(state, 1) + size * fault->loft,
      .head_mass = player.head_mass,
      .strike = normal(state, 4) + size * fault->strike,
      .strike_height = normal(state, 2) + size * fault->strike_height};
  return player;
}

static double within(double x, double low, double high) {
  return x < low ? low : x > high ? high : x;
}

static struct golf_impact draw_impact(const struct player *player, uint64_t *state) {
  struct golf_impact impact = player->middle;
  impact.club_speed *= 1 + normal(state, 0.015);
  impact.path += normal(state, 1.5);
  impact.face += normal(state, 1.5 * player->fault->wider_face);
  impact.attack += normal(state, 1);
  impact.delivered_loft = within(impact.delivered_loft + normal(state, 1.2), 4, 60);
  impact.strike = within(impact.strike + normal(state, 6), -40, 40);
  impact.strike_height = within(impact.strike_height + normal(state, 3), -25, 25);
  return impact;
}

/* ---- the table ---- */

/* Devices that see the club as well, or the ball alone. */
static void write_header(FILE *out, bool club) {
  if (club)
    fputs("Club Speed (mph),Club Path (deg),Face Angle (deg),Angle of Attack (deg),"
          "Dynamic Loft (deg),Strike (mm),Strike Height (mm),",
          out);
  fputs("Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),"
        "Spin Axis (deg),Carry (m),Side (m)\n",
        out);
}

#define MPH 0.44704

static bool write_shot(FILE *out, const struct golf_impact *at, bool club, uint64_t *state) {
  struct golf_launch launch;
  struct golf_flight flight;
  struct golf_air air = golf_air_standard();
  if (golf_launch(at, &launch)) return false;
  struct golf_shot shot = {launch.ball_speed, launch.launch, launch.start, launch.spin,
                           launch.axis_tilt};
  if (golf_fly(GOLF_BLEND, &shot, &air, NULL, &flight)) return false;
  if (club)
    fprintf(out, "%.1f,%.1f,%.1f,%.1f,%.1f,%.0f,%.0f,",
            at->club_speed / MPH * (1 + normal(state, 0.01)), at->path + normal(state, 0.8),
            at->face + normal(state, 0.6), at->attack + normal(state, 0.6),
            at->delivered_loft + normal(state, 0.8), at->strike + normal(state, 3),
            at->strike_height + normal(state, 3));
  fprintf(out, "%.1f,%.1f,%.1f,%.0f,%.1f,%.1f,%.1f\n",
          launch.ball_speed / MPH * (1 + normal(state, 0.01)), launch.launch + normal(state, 0.4),
          launch.start + normal(state, 0.5), launch.spin * (1 + normal(state, 0.04)),
          launch.axis_tilt + normal(state, 1.2), flight.carry * (1 + normal(state, 0.015)),
          flight.side + normal(state, 1));
  return true;
}

static void write_table(const char *directory, size_t index, const struct player *player,
                        size_t shots, bool club, uint64_t *state) {
  char path[512];
  snprintf(path, sizeof path, "%s/%zu.csv", directory, index);
  FILE *out = fopen(path, "w");
  if (!out) {
    perror(path);
    exit(1);
  }
  write_header(out, club);
  for (size_t i = 0; i < shots;) {
    struct golf_impact impact = draw_impact(player, state);
    i += write_shot(out, &impact, club, state);
  }
  fclose(out);
}

/* ---- what is seen ---- */

/* What the fault shows of this thing, or NULL. */
static const char *shown_by(const struct fault *fault, const char *evidence) {
  size_t n = strlen(evidence);
  for (size_t i = 0; i < 3 && fault->seen[i]; i++)
    if (strncmp(fault->seen[i], evidence, n) == 0 && fault->seen[i][n] == '=')
      return fault->seen[i] + n + 1;
  return NULL;
}

/* Adds what is seen, or would be; answers whether the state is the true one. */
static bool see(char *seen, size_t room, const struct look *look, const char *shown,
                uint64_t *state) {
  size_t n = 0, used = strlen(seen);
  while (n < 5 && look->states[n]) n++;
  if (n == 0) {
    double truth = (shown ? atof(shown) : 0) + normal(state, 1.5);
    snprintf(seen + used, room - used, " %s=%.1f", look->evidence,
             truth + normal(state, look->error));
    return true;
  }
  const char *named = shown ? shown : look->states[0];
  bool wrong = random_uniform(state) < SEEN_WRONG;
  if (wrong) {
    size_t other = below(state, n - 1), at = 0;
    while (strcmp(look->states[at], named) == 0 || other-- > 0) at++;
    named = look->states[at];
  }
  snprintf(seen + used, room - used, " %s=%s", look->evidence, named);
  return !wrong;
}

/* What two more looks at the same thing make of it: the state that two looks of the three agree on;
 * "name=" when all differ. Numbers are not looked at again. */
static void see_again(char *again, size_t room, const struct look *look, const char *seen,
                      const char *shown, uint64_t *state) {
  char more[2][64] = {"", ""};
  size_t n = strlen(look->evidence) + 1, used = strlen(again);
  if (!look->states[0]) return;
  const char *first = strrchr(seen, ' ') + 1 + n, *kept = "";
  for (size_t i = 0; i < 2; i++) see(more[i], sizeof more[i], look, shown, state);
  if (strcmp(more[0], more[1]) == 0) kept = more[0] + 1 + n;
  else if (strcmp(more[0] + 1 + n, first) == 0 || strcmp(more[1] + 1 + n, first) == 0) kept = first;
  snprintf(again + used, room - used, " %s=%s", look->evidence, kept);
}

/* What he would see of the things not looked at, were he asked to look; or of the others, were he
 * asked to look again. */
static void write_looks(const char *directory, size_t index, const char *kind,
                        const char *looks_at) {
  char path[512];
  snprintf(path, sizeof path, "%s/%zu.%s", directory, index, kind);
  FILE *out = fopen(path, "w");
  if (!out) {
    perror(path);
    exit(1);
  }
  fprintf(out, "%s\n", looks_at);
  fclose(out);
}

static void write_session(const char *directory, size_t index, uint64_t *state) {
  const struct fault *fault = &faults[index % FAULTS];
  struct player player = draw_player(fault, state);
  size_t shots = 12 + below(state, 29);
  bool club = random_uniform(state) < 0.6, told = false;
  char seen[2048] = "", unseen[2048] = "", again[2048] = "";
  uint64_t aside = *state ^ 0x9e3779b97f4a7c15U; /* so that looking changes nothing else */
  write_table(directory, index, &player, shots, club, state);
  for (size_t i = 0; i < LOOKS; i++) {
    const char *shown = shown_by(fault, looks[i].evidence);
    if (random_uniform(state) >= (shown ? FAULT_SEEN : LOOKED_AT)) {
      see(unseen, sizeof unseen, &looks[i], shown, &aside);
      see_again(again, sizeof again, &looks[i], unseen, shown, &aside);
      continue;
    }
    bool right = see(seen, sizeof seen, &looks[i], shown, state);
    see_again(again, sizeof again, &looks[i], seen, shown, &aside);
    told = told || (shown && right);
  }
  write_looks(directory, index, "looks", unseen);
  write_looks(directory, index, "again", again);
  printf("%zu %s %s %s %s%s\n", index, fault->name, player.club, club ? "club" : "ball",
         told ? "told" : "untold", seen);
}

int main(int argc, char **argv) {
  if (argc != 4) {
    fputs("usage: session_players N SEED DIRECTORY\n", stderr);
    return 2;
  }
  uint64_t state = strtoull(argv[2], NULL, 10);
  size_t n = strtoul(argv[1], NULL, 10);
  for (size_t i = 0; i < n; i++) write_session(argv[3], i, &state);
  return 0;
}
