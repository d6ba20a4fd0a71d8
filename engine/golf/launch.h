/* From impact to launch: ball speed, launch angle, start line and spin by rigid-body impact.
 * Knows no typical values (expect.h) and no flight (flight.h). Pure; NaN in, NaN out; any thread
 * may call it. Speeds m/s, angles deg, spin rpm, masses g, inertia g cm2, places on the face mm (+
 * toe, + high). Sources: penner-2001, penner-2003 (forms 2nd, momentum derived), wood-2018 (launch
 * and start shares), driver inertia head-inertia-2020; figures marked memory are leads, and their
 * errors are wide for that reason.
 */
#ifndef WM_GOLF_LAUNCH_H
#define WM_GOLF_LAUNCH_H

struct golf_range;

/* The largest ball and smallest diameter the equipment rules allow (equipment-rules): g, mm. */
#define GOLF_BALL_MASS 45.93
#define GOLF_BALL_DIAMETER 42.67

struct golf_impact {
  double club_speed; /* m/s at the ball */
  double face, path; /* deg to the target line */
  double delivered_loft, attack;
  double head_mass; /* g */
  double strike,
      strike_height; /* mm from the middle of the face, right under the head's mass centre */
};

struct golf_launch {
  double ball_speed, ball_speed_error; /* m/s; error of the model, inputs taken as exact */
  double launch, launch_error;         /* deg above level */
  double start, start_error;           /* deg, + right */
  double spin, spin_error;             /* rpm about the tilted axis */
  double backspin, sidespin; /* rpm about a level and the upright axis; + sidespin curves right */
  double axis_tilt, axis_tilt_error; /* deg, with gear effect */
  double speed_ratio;                /* ball over club speed */
  double incidence;                  /* deg between club velocity and face normal */
  double centred_tilt;               /* deg, axis tilt without gear effect */
};

/* Coefficient of restitution at a closing speed along the face normal (m/s). Solid heads: 0.86 -
 * 0.0029 v (penner-2001, memory). A thin driver face springs: not below 0.83, the limit of the
 * rules, for heads up to 205 g; a mix between there and 235 g, the weight of the first solid irons
 * (practice). */
double golf_restitution(double normal_speed, double head_mass);

/* Moments of inertia of a usual head of that mass, g cm2: about the upright axis (toe-heel misses)
 * and about the axis along the face (high-low misses). 4085 for a 204 g driver (head-inertia-2020,
 * seen); the rest memory. */
double golf_inertia(double head_mass);
double golf_inertia_height(double head_mass);

/* Share of the normal ball speed left by an off-centre strike, from 1/M_eff = 1/M + b2/I + h2/I_h
 * (derived). */
double golf_strike_factor(double strike, double strike_height, double head_mass, double inertia,
                          double inertia_height);

/* Ball speed along the face normal and along the face for one unit of club speed, at an incidence
 * (deg): (1 + e) cos a / (1 + m/M) and sin a / (1 + m/M + 5/2): rigid ball that ends rolling
 * (penner-2001). */
double golf_normal_ratio(double incidence, double restitution, double head_mass);
double golf_rolling_ratio(double incidence, double head_mass);

/* Ball speed of a centred strike. */
double golf_square_ball_speed(double club_speed, double incidence, double head_mass);

/* Spin (rad/s) of a ball that leaves rolling at v_t along the face: 5/2 v_t / r. Here club_speed
 * gives v_t. */
double golf_rolling_spin(double club_speed, double incidence, double head_mass);

/* Share of a spin that one standard error is: 0.12 to an incidence of 40 deg, then rising 0.02 a
 * degree, because the rolling model overstates spin where the ball slips (memory). */
double golf_spin_doubt(double incidence);

/* Change of sidespin and backspin (rpm) by gear effect: a toe strike turns the head and, its face
 * being ahead of its mass centre, drags the ball's back sideways. Depth of the mass centre 35 mm
 * for a driver to 8 mm for irons (memory), so one standard error is 0.4 of the value. + sidespin
 * curves right: a toe strike gives a minus. */
double golf_gear_sidespin(double strike, double normal_ball_speed, double head_mass);
double golf_gear_backspin(double strike_height, double normal_ball_speed, double head_mass);

/* The range an impact misses and its argument index in the order of the struct, or NULL when all
 * are plausible. */
const struct golf_range *golf_impact_check(const struct golf_impact *impact, int *argument);

/* Fills *launch. Returns NULL, or the range missed with every field of *launch NaN. */
const struct golf_range *golf_launch(const struct golf_impact *impact, struct golf_launch *launch);

/* The same without the check of ranges: for derivatives at the edge of a range. */
void golf_launch_compute(const struct golf_impact *impact, struct golf_launch *launch);

/* The impact and launch reflected left to right, as mathematics: strike changes sign as well,
 * because here toe is right. A left-handed player's reading comes into this frame with face and
 * path reflected and strike kept. */
struct golf_impact golf_impact_mirror(struct golf_impact impact);
struct golf_launch golf_launch_mirror(struct golf_launch launch);

#endif
