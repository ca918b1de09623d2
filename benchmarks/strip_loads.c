/* The strips' loads of one piece, eight motions side by side, as kernels/strip_loads.py has them: what a C compiler makes of
   the same arithmetic. Columns of a strip's row stand as in kernels/tables.py. */
#include <math.h>

#define LANES 8
#define COLUMNS 15

enum { PLACE, AXIS, REAR_PLACE, REAR_AXIS, SWAY, HEAVE, SWAY_WHOLE, HEAVE_WHOLE, SWAY_CHANGE, HEAVE_CHANGE, ROLL_CHANGE,
       DEPTH, SIDEWAYS, UPRIGHT, SKIN };

void strip_loads(const double *restrict strips, int count, const double *restrict twist, double *restrict wrench,
                 double front_place, double front_axis, double suction, double stall, double lateral, double broadside)
{
    double ahead_v[LANES], ahead_w[LANES], sum[6][LANES];
    const double *u0 = twist, *v0 = twist + LANES, *w0 = twist + 2 * LANES;
    const double *p = twist + 3 * LANES, *q = twist + 4 * LANES, *r = twist + 5 * LANES;
    for (int i = 0; i < LANES; i++) {
        ahead_v[i] = v0[i] + r[i] * front_place - p[i] * front_axis;
        ahead_w[i] = w0[i] - q[i] * front_place;
        for (int k = 0; k < 6; k++) sum[k][i] = wrench[k * LANES + i];
    }
    for (int s = 0; s < count; s++) {
        const double *row = strips + s * COLUMNS;
        const double x = row[PLACE], z = row[AXIS], reach = 0.3872983346207417 * row[DEPTH];
        const double turning = 0.5 * (1.0 - broadside) * (row[SWAY_WHOLE] - row[HEAVE_WHOLE]);
        for (int i = 0; i < LANES; i++) {
            const double u = u0[i] + q[i] * z, v = v0[i] + r[i] * x - p[i] * z, w = w0[i] - q[i] * x;
            const double behind_v = v0[i] + r[i] * row[REAR_PLACE] - p[i] * row[REAR_AXIS];
            const double behind_w = w0[i] - q[i] * row[REAR_PLACE];
            const double sideways = row[SWAY_WHOLE] * v, lifted = row[HEAVE_WHOLE] * w;
            const double shed = row[SWAY] * (behind_v - ahead_v[i]), raised = row[HEAVE] * (behind_w - ahead_w[i]);
            const double widened = row[SWAY_CHANGE] * v, deepened = row[HEAVE_CHANGE] * w;
            const double forward = u > 0.0 ? u : 0.0, square = forward * forward, across = (v * v + w * w) / stall;
            const double aft = u * (square / sqrt(square * square + across * across + 1e-60));
            const double above = v + p[i] * reach, below = v - p[i] * reach;
            const double high = 5.0 / 18.0 * sqrt(above * above + w * w), low = 5.0 / 18.0 * sqrt(below * below + w * w);
            const double middle = 4.0 / 9.0 * sqrt(v * v + w * w), up = high * above, down = low * below;
            const double rub = row[SKIN] * sqrt(u * u + v * v + w * w);
            const double pull = r[i] * sideways - q[i] * lifted
                + suction * (v * (shed + 0.5 * widened) + w * (raised + 0.5 * deepened)) - rub * u;
            const double side = p[i] * (lifted + turning * w) - aft * (shed + widened)
                - row[SIDEWAYS] * (up + middle * v + down) - lateral * rub * v;
            const double lift = -(p[i] * (sideways - turning * v)) - aft * (raised + deepened)
                - row[UPRIGHT] * (high + middle + low) * w - lateral * rub * w;
            const double roll = broadside * (w * sideways - v * lifted) - aft * (row[ROLL_CHANGE] * p[i])
                + row[SIDEWAYS] * reach * (down - up);
            sum[0][i] += pull;
            sum[1][i] += side;
            sum[2][i] += lift;
            sum[3][i] += roll - z * side;
            sum[4][i] += z * pull - x * lift;
            sum[5][i] += x * side;
            ahead_v[i] = behind_v;
            ahead_w[i] = behind_w;
        }
    }
    for (int i = 0; i < LANES; i++)
        for (int k = 0; k < 6; k++) wrench[k * LANES + i] = sum[k][i];
}

/* So often one after another, each run's result nudging the next one's motion so that none can be left out. */
void many_strip_loads(const double *strips, int count, double *twist, double *wrench, double front_place,
                      double front_axis, double suction, double stall, double lateral, double broadside, int times)
{
    for (int k = 0; k < times; k++) {
        for (int i = 0; i < 6 * LANES; i++) wrench[i] = 0.0;
        strip_loads(strips, count, twist, wrench, front_place, front_axis, suction, stall, lateral, broadside);
        for (int i = 0; i < LANES; i++) twist[i] += 1e-12 * wrench[i];
    }
}
