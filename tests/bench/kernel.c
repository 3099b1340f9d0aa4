/*
 * The half-cycle meter's steady path in C, for comparison: the same window, the same sums over
 * groups, the same Hann probe, the same belief in a height, the same cubic tails at fractional
 * borders. Reads v then i as doubles from standard input, pushes them in blocks of 1,024 over and
 * over, prints the best burst's ns a pair and a checksum of the rows.
 *
 * usage: kernel RATE NOMINAL BURSTS < samples
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { BLOCK = 1024, TAPS = 256, SLOTS = 4096 };

static double *volts, *amps;
static long origin, end, capacity;
static double slow[SLOTS];
static long slow_origin, slow_end;
static double cosines[TAPS], sines[TAPS];
static int reach, group;
static double rate, slow_rate, tuned, half, border, usual, last, restless;
static long next;
static int calm, disbelieved;
static long from_sample, to_sample;
static double start_position, from_position, to_position, wa, wb, wc;
static double tails[3], sums[2][3];
static int now;
static long halves;
static struct { double start, middle, end, hertz, urms, irms, watts, uhalf, ihalf, whalf; } row;
static double checksum;

static void tune(double hertz) {
  double window = slow_rate / hertz, total = 0.5;
  tuned = hertz;
  reach = (int)ceil(window) - 1;
  for (int m = 1; m <= reach; m++) {
    double w = cos(M_PI * m / (2 * window));
    total += w * w;
  }
  for (int m = 0; m <= reach; m++) {
    double w = cos(M_PI * m / (2 * window)), angle = 2 * M_PI * hertz * m / slow_rate;
    cosines[m] = w * w / total * cos(angle);
    sines[m] = w * w / total * sin(angle);
  }
}

static void append(const double *v, const double *i, long frames) {
  memcpy(volts + (end - origin), v, frames * sizeof *v);
  memcpy(amps + (end - origin), i, frames * sizeof *i);
  end += frames;
}

static void drop(long position) {
  long used = position - origin;
  if (used <= 0) return;
  memmove(volts, volts + used, (end - origin - used) * sizeof *volts);
  memmove(amps, amps + used, (end - origin - used) * sizeof *amps);
  origin = position;
}

static void take(void) {
  long until = end / group;
  if (until - slow_origin > SLOTS) {
    long used = next - 400 - slow_origin;
    memmove(slow, slow + used, (slow_end - slow_origin - used) * sizeof *slow);
    slow_origin += used;
  }
  const double *k = volts + (slow_end * group - origin);
  for (long n = slow_end - slow_origin; n < until - slow_origin; n++) {
    double even = 0, odd = 0;
    const double *stop = k + group;
    for (; k < stop - 1; k += 2) {
      even += k[0];
      odd += k[1];
    }
    if (k < stop) even += *k++;
    slow[n] = even + odd;
  }
  slow_end = until;
}

static double cosine, sine;

static void measure(long at) {
  const double *x = slow + at;
  double even0 = x[0] * cosines[0], even1 = 0, odd0 = 0, odd1 = 0;
  int m = 1;
  for (; m < reach; m += 2) {
    even0 += cosines[m] * (x[m] + x[-m]);
    odd0 += sines[m] * (x[m] - x[-m]);
    even1 += cosines[m + 1] * (x[m + 1] + x[-m - 1]);
    odd1 += sines[m + 1] * (x[m + 1] - x[-m - 1]);
  }
  if (m == reach) {
    even0 += cosines[m] * (x[m] + x[-m]);
    odd0 += sines[m] * (x[m] - x[-m]);
  }
  cosine = even0 + even1;
  sine = odd0 + odd1;
}

static int believe(double height) {
  double moved = fabs(height - last), step = 0.005 * fmax(height, last);
  double most = fmax(step, 4 * restless);
  last = height;
  restless += 0.05 * (fmin(moved, most) - restless);
  calm = moved > most ? 0 : calm + 1;
  if (calm < 2 && ++disbelieved <= 12) return 0;
  disbelieved = 0;
  usual += 0.05 * (height - usual);
  return 1;
}

static double phase(void) {
  double ratio = cosine / sine, square = ratio * ratio;
  if (square < 0.04) {
    double sum = 1 / 3.0 - square * (1 / 5.0 - square * (1 / 7.0 - square / 9));
    return ratio * (1 - square * sum) / M_PI;
  }
  double turn = atan2(cosine, sine) / M_PI;
  return turn > 0.5 ? turn - 1 : turn < -0.5 ? turn + 1 : turn;
}

static void go_to(double position) {
  border = position;
  next = lround((border + half + 0.5) / group - 0.5);
}

static void advance(void) {
  double foretold = border + half, surprise = 0;
  if (next - slow_origin >= reach) {
    measure(next - slow_origin);
    double height = sqrt(cosine * cosine + sine * sine);
    if (height > 0.1 * usual && believe(height)) {
      surprise = (next + 0.5) * group - 0.5 - phase() * half - foretold;
      if (fabs(surprise) > half / 2) surprise -= round(surprise / half) * half;
      double limit = 0.003 * half;
      half += fmin(limit, fmax(-limit, 0.15 * surprise));
      double hertz = rate / (2 * half);
      if (fabs(hertz - tuned) > 1e-3 * hertz) tune(hertz);
    }
  }
  go_to(foretold + surprise);
}

static void place(double position) {
  to_position = position;
  to_sample = (long)floor(position - 0.5);
  double u = position - 0.5 - to_sample;
  double before = -u * (u - 1) * (u - 2) / 6, over = u * (u + 1) * (u - 1) / 6;
  wa = -before;
  wb = -u * (u + 1) * (u - 2) / 2 + over;
  wc = over;
}

static void place_tails(void) {
  const double *v = volts + (to_sample - origin), *i = amps + (to_sample - origin);
  tails[0] = wa * v[0] * v[0] + wb * v[1] * v[1] + wc * v[2] * v[2];
  tails[1] = wa * i[0] * i[0] + wb * i[1] * i[1] + wc * i[2] * i[2];
  tails[2] = wa * v[0] * i[0] + wb * v[1] * i[1] + wc * v[2] * i[2];
}

static void add(const double *v, const double *i, long from, long to, double *into) {
  double vv0 = 0, vv1 = 0, ii0 = 0, ii1 = 0, vi0 = 0, vi1 = 0;
  long k = from;
  for (; k < to - 1; k += 2) {
    vv0 += v[k] * v[k];
    ii0 += i[k] * i[k];
    vi0 += v[k] * i[k];
    vv1 += v[k + 1] * v[k + 1];
    ii1 += i[k + 1] * i[k + 1];
    vi1 += v[k + 1] * i[k + 1];
  }
  if (k < to) {
    vv0 += v[k] * v[k];
    ii0 += i[k] * i[k];
    vi0 += v[k] * i[k];
  }
  into[0] = vv0 + vv1;
  into[1] = ii0 + ii1;
  into[2] = vi0 + vi1;
}

static void tell(void) {
  start_position = from_position;
  from_position = to_position;
  from_sample = to_sample;
  place(border);
  now = 1 - now;
  add(volts, amps, from_sample + 1 - origin, to_sample + 1 - origin, sums[now]);
  for (int s = 0; s < 3; s++) sums[now][s] -= tails[s];
  place_tails();
  for (int s = 0; s < 3; s++) sums[now][s] += tails[s];
  if (++halves < 2) return;
  double per_half = 1 / (to_position - from_position);
  double per_whole = 1 / (to_position - start_position);
  double vv = fmax(0, sums[now][0]), ii = fmax(0, sums[now][1]);
  row.start = start_position;
  row.middle = from_position;
  row.end = to_position;
  row.hertz = rate / (2 * half);
  row.uhalf = sqrt(vv * per_half);
  row.ihalf = sqrt(ii * per_half);
  row.whalf = sums[now][2] * per_half;
  row.urms = sqrt((fmax(0, sums[1 - now][0]) + vv) * per_whole);
  row.irms = sqrt((fmax(0, sums[1 - now][1]) + ii) * per_whole);
  row.watts = (sums[1 - now][2] + sums[now][2]) * per_whole;
  checksum += row.urms + row.irms + row.watts;
}

static void push(const double *v, const double *i, long frames) {
  while (frames > 0) {
    long room = capacity - (end - origin);
    if (frames > room) {
      drop((long)floor(border) - 2);
      room = capacity - (end - origin);
    }
    long part = frames < room ? frames : room;
    append(v, i, part);
    v += part;
    i += part;
    frames -= part;
    take();
    while (next + reach < slow_end) {
      advance();
      tell();
    }
  }
}

static double seconds(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

int main(int argc, char **argv) {
  if (argc < 4) return 2;
  rate = atof(argv[1]);
  double nominal = atof(argv[2]);
  int bursts = atoi(argv[3]);
  static double input[1 << 22];
  long n = fread(input, sizeof *input, 1 << 22, stdin) / 2;
  n -= n % BLOCK;
  group = rate >= 1200 ? (int)(rate / 1200) : 1;
  slow_rate = rate / group;
  capacity = (long)ceil(0.2 * rate) + 64;
  volts = malloc(capacity * sizeof *volts);
  amps = malloc(capacity * sizeof *amps);
  half = rate / (2 * nominal);
  usual = last = 1e-9;
  tune(nominal);
  place(2 * half);
  go_to(2 * half);
  long first = BLOCK < capacity ? BLOCK : capacity;
  append(input, input + n, first);
  place_tails();
  take();
  double best = 1e9;
  for (int burst = 0; burst < bursts; burst++) {
    double t = seconds();
    for (long k = 0; k < n; k += BLOCK) push(input + k, input + n + k, BLOCK);
    double per = (seconds() - t) / n * 1e9;
    if (per < best) best = per;
  }
  printf("%.4f %.6f %.6f\n", best, row.urms, row.watts);
  return checksum < 0;
}
