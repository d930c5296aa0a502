/* SUNDIALS CVODE on the launch that peers.py hands it: its legs, their times, the car's numbers.
 * The equations are those of tests/reference/machine.py. Prints name, relative tolerance, error of
 * the time to the mark, evaluations, least time in microseconds. */

#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>
#include <time.h>

enum { STATES = 7, NUMBERS = 26, MOST = 200, REPEATS = 7 };
static const double SCALE[STATES] = {128.0, 16.0, 1.0, 1.0, 0.0078125, 1024.0, 8192.0};
static const double LONGEST_STEP_S = 0.02;

struct piece { double knot, c3, c2, c1, c0; };
struct leg {
    double start_s, end_s, mode, sign, ratio, downstream;
    double e_start, e_value, e_slope, l_start, l_value, l_slope, shifted;
};
struct car {
    double radius, relaxation, damping, static_load, direction, weight, grip, sensitivity, c, b;
    double reaction, drag, rolling, mass, crank, efficiency, transfer, pitch, capacity, fade;
    double stall_rpm, limiter_rpm, motoring, weather, first_nm, flat;
};

static union { struct car named; double list[NUMBERS]; } car;
static struct piece pieces[MOST];
static double last_knot, start[STATES], end_speed, end_place;
static struct leg legs[MOST];
static int pieces_count, legs_count;
static long evaluations;

static double number(FILE *from) {
    double value;
    if (fscanf(from, "%lf", &value) != 1) {
        fputs("the file ends too soon\n", stderr);
        exit(1);
    }
    return value;
}

static void read_all(const char *path) {
    FILE *from = fopen(path, "r");
    if (from == NULL) {
        perror(path);
        exit(1);
    }
    for (int i = 0; i < NUMBERS; i++) car.list[i] = number(from);
    pieces_count = (int)number(from);
    for (int i = 0; i < pieces_count; i++) {
        double *list = &pieces[i].knot;
        for (int j = 0; j < 5; j++) list[j] = number(from);
    }
    last_knot = number(from);
    legs_count = (int)number(from);
    for (int i = 0; i < legs_count; i++) {
        double *list = &legs[i].start_s;
        for (int j = 0; j < 13; j++) list[j] = number(from);
    }
    for (int i = 0; i < STATES; i++) start[i] = number(from);
    end_speed = number(from);
    end_place = number(from);
    fclose(from);
}

static double curve_nm(double n) {
    const struct car *a = &car.named;
    if (n < pieces[0].knot) return a->first_nm * fmax(0.0, (n - a->stall_rpm) / (pieces[0].knot - a->stall_rpm));
    int i = 0;
    while (i + 1 < pieces_count && pieces[i + 1].knot <= n) i++;
    double d = n - pieces[i].knot;
    return ((pieces[i].c3 * d + pieces[i].c2) * d + pieces[i].c1) * d + pieces[i].c0;
}

static double full_nm(double n) {
    const struct car *a = &car.named;
    double s = fmin(fmax((a->limiter_rpm - n) / 100.0, 0.0), 1.0);
    if (s == 0.0) return -a->motoring;
    return s * a->weather * curve_nm(n) - (1.0 - s) * a->motoring;
}

static int rates(realtype t, N_Vector state, N_Vector out, void *which) {
    const struct leg *leg = which;
    const struct car *a = &car.named;
    const double *z = N_VGetArrayPointer(state);
    double *rate = N_VGetArrayPointer(out), y[STATES];
    for (int i = 0; i < STATES; i++) y[i] = z[i] * SCALE[i];
    evaluations++;
    double we = y[0], ww = y[1], v = y[2], u = y[4];
    double rim = a->radius * ww, vs = rim - v;
    double du = vs - fmax(fabs(v), fabs(rim)) * u / a->relaxation;
    double slip = (u + a->damping * du) / a->relaxation;
    double load = fmin(fmax(a->static_load + a->direction * y[5], 0.05 * a->weight), a->weight);
    double peak = a->grip * fmax(0.3, 1.0 - a->sensitivity * (load / a->static_load - 1.0));
    double share = peak * sin(a->c * atan(a->b * slip));
    double force = share * load / (1.0 + fabs(share) * a->reaction);
    double dv = (force - a->drag * v * v - a->rolling * fmin(fmax(v / 0.1, -1.0), 1.0)) / a->mass;
    double open = leg->l_value + leg->l_slope * (t - leg->l_start);
    double full = full_nm(we * 30.0 / M_PI), engine;
    if (leg->mode == 2.0) engine = a->flat ? full : -a->motoring;
    else engine = open * full - (1.0 - open) * a->motoring * leg->shifted;
    double load_nm = force * a->radius, g = leg->ratio, jd = leg->downstream, clutch = 0.0, dwe, dww;
    if (leg->mode == 2.0) {
        dwe = engine / a->crank;
        dww = -load_nm / jd;
    } else if (leg->mode == 0.0) {
        double left = fmax(0.3, 1.0 - a->fade * y[6]);
        clutch = leg->sign * (leg->e_value + leg->e_slope * (t - leg->e_start)) * a->capacity * left;
        double passed = clutch >= 0.0 ? a->efficiency : 1.0 / a->efficiency;
        dwe = (engine - clutch) / a->crank;
        dww = (passed * g * clutch - load_nm) / jd;
    } else {
        double passed = engine * jd + a->crank * g * load_nm >= 0.0 ? a->efficiency : 1.0 / a->efficiency;
        dww = (passed * g * engine - load_nm) / (jd + passed * g * g * a->crank);
        dwe = g * dww;
    }
    double out_si[STATES] = {dwe, dww, dv, v, du, (a->transfer * dv - y[5]) / a->pitch,
                             leg->mode == 0.0 ? clutch * (we - g * ww) : 0.0};
    for (int i = 0; i < STATES; i++) rate[i] = out_si[i] / SCALE[i];
    return 0;
}

/* One launch through all legs; returns the error of the time to the mark, s. */
static double launch(void *solver, N_Vector y) {
    double *z = N_VGetArrayPointer(y);
    for (int i = 0; i < STATES; i++) z[i] = start[i] / SCALE[i];
    for (int i = 0; i < legs_count; i++) {
        if (legs[i].mode == 1.0) z[0] = legs[i].ratio * z[1] * SCALE[1] / SCALE[0];
        if (legs[i].end_s <= legs[i].start_s) continue;
        realtype t = legs[i].start_s;
        if (CVodeReInit(solver, t, y) || CVodeSetUserData(solver, &legs[i]) || CVodeSetStopTime(solver, legs[i].end_s))
            exit(1);
        while (t < legs[i].end_s)
            if (CVode(solver, legs[i].end_s, y, &t, CV_ONE_STEP) < 0) return NAN;
    }
    return fabs(z[3] * SCALE[3] - end_place) / end_speed;
}

static double now_us(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return now.tv_sec * 1e6 + now.tv_nsec * 1e-3;
}

static void with(SUNContext context, int method, const char *name, double relative) {
    N_Vector y = N_VNew_Serial(STATES, context);
    for (int i = 0; i < STATES; i++) N_VGetArrayPointer(y)[i] = start[i] / SCALE[i];
    void *solver = CVodeCreate(method, context);
    CVodeInit(solver, rates, legs[0].start_s, y);
    CVodeSStolerances(solver, relative, relative / 10.0);
    CVodeSetMaxStep(solver, LONGEST_STEP_S);
    CVodeSetMaxNumSteps(solver, 1000000);
    SUNNonlinearSolver fixed = NULL;
    SUNMatrix matrix = NULL;
    SUNLinearSolver linear = NULL;
    if (method == CV_ADAMS) {
        fixed = SUNNonlinSol_FixedPoint(y, 0, context);
        CVodeSetNonlinearSolver(solver, fixed);
    } else {
        matrix = SUNDenseMatrix(STATES, STATES, context);
        linear = SUNLinSol_Dense(y, matrix, context);
        CVodeSetLinearSolver(solver, linear, matrix);
    }
    double least_us = INFINITY, error = NAN;
    long asked = 0;
    for (int i = 0; i < REPEATS; i++) {
        evaluations = 0;
        double begun_us = now_us();
        error = launch(solver, y);
        least_us = fmin(least_us, now_us() - begun_us);
        asked = evaluations;
    }
    printf("%s %.17g %.17g %ld %.17g\n", name, relative, error, asked, least_us);
    CVodeFree(&solver);
    if (fixed) SUNNonlinSolFree(fixed);
    if (linear) SUNLinSolFree(linear);
    if (matrix) SUNMatDestroy(matrix);
    N_VDestroy(y);
}

int main(int argc, char **argv) {
    if (argc != 2) {
        fputs("usage: cvode_peer LEGS\n", stderr);
        return 1;
    }
    read_all(argv[1]);
    SUNContext context;
    SUNContext_Create(NULL, &context);
    const double tolerances[] = {1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10};
    for (size_t i = 0; i < sizeof tolerances / sizeof *tolerances; i++) with(context, CV_ADAMS, "CVODE Adams", tolerances[i]);
    for (size_t i = 0; i < sizeof tolerances / sizeof *tolerances; i++) with(context, CV_BDF, "CVODE BDF", tolerances[i]);
    SUNContext_Free(&context);
    return 0;
}
