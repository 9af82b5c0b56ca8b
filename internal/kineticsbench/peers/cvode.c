/* The two-pool urea model in its steady state by CVODE.
 *
 * Usage: cvode METHOD RTOL REPEATS < cases
 * METHOD is bdf or adams. The cases are those that cases.go writes. Each case
 * is answered with one line: time-averaged, then pre, post and the level an
 * hour after for every session, all for the given generation. The last line is
 * "seconds" and, for every case, the least time of the repeats.
 *
 * The steady state is found as the model allows: two homogeneous columns and a
 * forced one through the cycle once, then a 2x2 equation. The three columns go
 * together, with the area of each as one more state: nine equations, whose
 * Jacobian is given.
 */
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <time.h>

#define MOST 64

typedef struct {
	int both, n;
	double volume, fraction, generation, residual, transfer, cycle;
	double start[MOST], length[MOST], clearance[MOST], removed[MOST];
} Case;

/* One stretch of constant rates. */
typedef struct {
	double removal, transfer, outer, inner, outer_trend, inner_trend;
} Stretch;

static void coefficients(const Stretch *s, double t, double *a, double *b, double *c, double *d, double *g)
{
	double o = s->outer + s->outer_trend * t, i = s->inner + s->inner_trend * t;
	*a = -(s->removal + s->outer_trend + s->transfer) / o;
	*b = s->transfer / o;
	*c = s->transfer / i;
	*d = -(s->transfer + s->inner_trend) / i;
	*g = 1 / o;
}

static int slope(realtype t, N_Vector y, N_Vector ydot, void *data)
{
	double a, b, c, d, g;
	realtype *v = NV_DATA_S(y), *w = NV_DATA_S(ydot);
	coefficients(data, t, &a, &b, &c, &d, &g);
	for (int k = 0; k < 3; k++) {
		w[3 * k] = a * v[3 * k] + b * v[3 * k + 1] + (k == 2 ? g : 0);
		w[3 * k + 1] = c * v[3 * k] + d * v[3 * k + 1];
		w[3 * k + 2] = v[3 * k];
	}
	return 0;
}

static int jacobian(realtype t, N_Vector y, N_Vector fy, SUNMatrix j, void *data, N_Vector t1, N_Vector t2, N_Vector t3)
{
	double a, b, c, d, g;
	(void)y, (void)fy, (void)t1, (void)t2, (void)t3;
	coefficients(data, t, &a, &b, &c, &d, &g);
	SUNMatZero(j);
	for (int k = 0; k < 3; k++) {
		SM_ELEMENT_D(j, 3 * k, 3 * k) = a;
		SM_ELEMENT_D(j, 3 * k, 3 * k + 1) = b;
		SM_ELEMENT_D(j, 3 * k + 1, 3 * k) = c;
		SM_ELEMENT_D(j, 3 * k + 1, 3 * k + 1) = d;
		SM_ELEMENT_D(j, 3 * k + 2, 3 * k) = 1;
	}
	return 0;
}

typedef struct {
	void *cvode;
	N_Vector y;
	Stretch now;
} Solver;

static void fail(const char *what)
{
	fprintf(stderr, "cvode: %s failed\n", what);
	exit(1);
}

static void run(Solver *s, const Case *c, double length, double clearance, double volume, double trend)
{
	double inner = (1 - c->fraction) * c->volume * 1000;
	if (length <= 0)
		return;
	s->now = (Stretch){c->residual + clearance, c->transfer, volume - inner, inner, trend, 0};
	if (c->both)
		s->now = (Stretch){c->residual + clearance, c->transfer, c->fraction * volume, (1 - c->fraction) * volume,
			c->fraction * trend, (1 - c->fraction) * trend};
	realtype t = 0;
	if (CVodeReInit(s->cvode, 0, s->y) || CVodeSetStopTime(s->cvode, length))
		fail("start of a stretch");
	int flag;
	do
		flag = CVode(s->cvode, length, s->y, &t, CV_NORMAL);
	while (flag == CV_SUCCESS && t < length);
	if (flag < 0)
		fail("a stretch");
}

/* solve answers a case; out holds 1 + 3n figures. */
static void solve(Solver *s, const Case *c, double *out)
{
	double gain = 0, volume = 0, lowest = 0;
	double level[3 * MOST][3]; /* the three columns at pre, post and an hour after */
	realtype *y = NV_DATA_S(s->y);
	for (int i = 0; i < c->n; i++)
		gain += c->removed[i] * 1000 / c->cycle;
	for (int i = 0; i < c->n; i++) {
		double next = i + 1 < c->n ? c->start[i + 1] : c->start[0] + c->cycle;
		volume += gain * c->length[i] - c->removed[i] * 1000;
		if (volume < lowest)
			lowest = volume;
		volume += gain * (next - c->start[i] - c->length[i]);
		if (volume < lowest)
			lowest = volume;
	}
	volume = c->volume * 1000 - lowest;
	memset(y, 0, 9 * sizeof *y);
	y[0] = y[4] = 1;
	for (int i = 0; i < c->n; i++) {
		double next = i + 1 < c->n ? c->start[i + 1] : c->start[0] + c->cycle;
		double gap = next - c->start[i] - c->length[i], trend = gain - c->removed[i] * 1000 / c->length[i];
		for (int k = 0; k < 3; k++)
			level[3 * i][k] = y[3 * k];
		run(s, c, c->length[i], c->clearance[i], volume, trend);
		volume += trend * c->length[i];
		for (int k = 0; k < 3; k++)
			level[3 * i + 1][k] = y[3 * k];
		run(s, c, 60, 0, volume, gain);
		volume += gain * 60;
		for (int k = 0; k < 3; k++)
			level[3 * i + 2][k] = y[3 * k];
		run(s, c, gap - 60, 0, volume, gain);
		volume += gain * (gap - 60);
	}
	double m11 = 1 - y[0], m12 = -y[3], m21 = -y[1], m22 = 1 - y[4], det = m11 * m22 - m12 * m21;
	double g = c->generation;
	double x0 = g * (y[6] * m22 - m12 * y[7]) / det, x1 = g * (m11 * y[7] - m21 * y[6]) / det;
	out[0] = (y[2] * x0 + y[5] * x1 + y[8] * g) / c->cycle;
	for (int i = 0; i < 3 * c->n; i++)
		out[1 + i] = level[i][0] * x0 + level[i][1] * x1 + level[i][2] * g;
}

static double now(void)
{
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return t.tv_sec + 1e-9 * t.tv_nsec;
}

int main(int argc, char **argv)
{
	int cases;
	if (argc != 4 || scanf("%d", &cases) != 1)
		return 2;
	int method = strcmp(argv[1], "bdf") ? CV_ADAMS : CV_BDF, repeats = atoi(argv[3]);
	double rtol = atof(argv[2]);
	SUNContext ctx;
	Solver s;
	if (SUNContext_Create(NULL, &ctx))
		fail("a context");
	s.y = N_VNew_Serial(9, ctx);
	s.cvode = CVodeCreate(method, ctx);
	SUNMatrix a = SUNDenseMatrix(9, 9, ctx);
	SUNLinearSolver linear = SUNLinSol_Dense(s.y, a, ctx);
	N_VConst(0, s.y);
	if (CVodeInit(s.cvode, slope, 0, s.y) || CVodeSStolerances(s.cvode, rtol, rtol * 1e-3) ||
		CVodeSetUserData(s.cvode, &s.now) || CVodeSetLinearSolver(s.cvode, linear, a) ||
		CVodeSetJacFn(s.cvode, jacobian) || CVodeSetMaxNumSteps(s.cvode, 1000000))
		fail("setting up");
	double *least = malloc(cases * sizeof *least);
	for (int k = 0; k < cases; k++) {
		Case c;
		if (scanf("%lf %lf %d %lf %lf %lf %lf %d", &c.volume, &c.fraction, &c.both, &c.generation, &c.residual,
				&c.transfer, &c.cycle, &c.n) != 8 || c.n > MOST)
			return 2;
		for (int i = 0; i < c.n; i++)
			if (scanf("%lf %lf %lf %lf", c.start + i, c.length + i, c.clearance + i, c.removed + i) != 4)
				return 2;
		double out[1 + 3 * MOST];
		least[k] = 1e9;
		for (int r = 0; r < repeats; r++) {
			double began = now();
			solve(&s, &c, out);
			double took = now() - began;
			if (took < least[k])
				least[k] = took;
		}
		for (int i = 0; i < 1 + 3 * c.n; i++)
			printf("%.17g ", out[i]);
		printf("\n");
	}
	printf("seconds");
	for (int k = 0; k < cases; k++)
		printf(" %.9g", least[k]);
	printf("\n");
	return 0;
}
