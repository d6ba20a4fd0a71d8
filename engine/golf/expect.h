/* What a club and a club speed should give, and what a shot lost against that.
 * Typical values are common practice, so each has an error; a club's own figures (kb) come in as
 * arguments. Pure; any thread may call it. m/s, deg, rpm, g, m.
 */
#ifndef WM_GOLF_EXPECT_H
#define WM_GOLF_EXPECT_H

struct golf_range;

/* Usual head mass (g) of a club of that loft (practice): 203 driver, 268 7-iron, 300 sand wedge. */
double golf_expected_head_mass(double club_loft);
/* Usual attack (deg): -1 driver off a tee, -3.5 irons; error 2 (practice). */
double golf_expected_attack(double club_loft);
/* Usual loft at impact (deg): 13 driver, 26 7-iron, 45 sand wedge; error 3 (practice). */
double golf_expected_delivered_loft(double club_loft);
/* Usual club speed (m/s) of an able adult amateur, for speed-free expectations; error 15 %
 * (practice). */
double golf_expected_club_speed(double club_loft);
double golf_expected_launch(double club_loft);

struct golf_expected {
  double ball_speed,
      ball_speed_error; /* centred, square; error: loft, attack, restitution and model */
  double speed_ratio, speed_ratio_error;
  double launch, launch_error;
  double spin, spin_error;
  double carry, carry_error; /* m, model blend in standard air; 0 until golf_expect_carry */
};

/* Fills all but the carry. head_mass NaN: the usual one. Returns NULL, or the range missed and NaN
 * figures. */
const struct golf_range *golf_expect(double club_speed, double club_loft, double head_mass,
                                     struct golf_expected *out);
/* Adds the carry: one flight and its error, some 100 us. */
void golf_expect_carry(struct golf_expected *expected);

struct golf_loss {
  double ball_speed, ball_speed_error; /* m/s short of the expected; + is lost */
  double carry, carry_error;           /* m that costs at the expected launch and spin */
  double speed_ratio;                  /* what the shot had */
};

/* What a measured ball speed lost. ball_speed_error and club_speed_error: one standard error of
 * each reading. Two flights and their difference: the model's error mostly cancels, 10 % of the
 * loss is kept (practice). */
const struct golf_range *golf_lose(double ball_speed, double ball_speed_error, double club_speed,
                                   double club_speed_error, double club_loft, double head_mass,
                                   struct golf_loss *out);

#endif
