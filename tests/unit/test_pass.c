/* What must be true of the slots after any pass: the season holds for all of
   them at once, and another pass changes nothing. */
#include "unit/config_fixture.h"
#include "unit/heart.h"
#include "unit/store_fixture.h"

#include "service/pass.h"

/* 2026-12-30 and 2027-01-01, 00:00 in Chicago: two seasons lie within reach. */
static const int64_t midnight = 1798610400;
static const int64_t new_year = 1798783200;

enum { SITES = 2, PRODUCTS = 3, STEPS = 3, JOBS = 5 };

static const char *const sites[SITES] = { "s0", "s1" };
static const char *const products[PRODUCTS] = { "p0", "p1", "p2" };

/* A keeper, and what the labels of the products allow in a year. */
struct lane {
	struct reading reading;
	struct keeper keeper;
	int most[PRODUCTS];
	int jobs; /* that were queued */
};

static void
begin_lane(struct lane *lane, void **state, const char *text)
{
	struct fixture *fixture = *state;
	lane->reading = read_good(text);
	lane->keeper = (struct keeper){ .config = lane->reading.config,
		.store = fixture->store,
		.state = fixture->folder,
		.clock = { .fixed = true, .at = midnight } };
}

/* No rule of weather: what is open is the keeper's hours. */
#define SITE(name, area, hours)                                                \
	"site " name " {\n\tlatitude = \"33.1 deg\"\n"                         \
	"\tlongitude = \"-97.2 deg\"\n\tzone = \"America/Chicago\"\n"          \
	"\tarea = \"" area " m2\"\n\tsprayer = b\n"                            \
	"\tforecast = \"nws-grid file:x\"\n\thours = { \"" hours "\" }\n}\n"
#define SPRAYER                                                                \
	"sprayer b {\n\ttank = \"15 L\"\n\tcarrier = \"0.05 L/m2\"\n"          \
	"\tpace = \"0.25 m2/s\"\n}\n"
#define PRODUCT(name, count, days)                                             \
	"product " name " {\n\tlabel = invented\n\tkind = other\n"             \
	"\trate = \"1 g/m2\"\n\tseason-count = \"" count "\"\n"                \
	"\tre-treatment = \"" days " d\"\n}\n"

/* `tank`: bits of the products. */
static void
queue(struct lane *lane, size_t site, unsigned tank, int priority, int day)
{
	char uid[24];
	struct error error = { 0 };
	int64_t id;
	(void)snprintf(uid, sizeof uid, "job-%d", lane->jobs++);
	struct stored_job job = { .uid = uid,
		.site = (char *)sites[site],
		.after = INT64_MIN,
		.before = INT64_MAX,
		.priority = priority,
		.weeds = "",
		.note = "",
		.created = lane->keeper.clock.at };
	for (size_t p = 0; p < PRODUCTS; p++)
		if ((tank >> p & 1) != 0)
			job.dose[job.dose_count++].product =
			    (char *)products[p];
	if (day >= 0) {
		job.after = lane->keeper.clock.at + day * DAY;
		job.before = job.after + DAY;
	}
	if (!store_job_add(lane->keeper.store, &job, &id, &error))
		fail_msg("%s", error.text);
}

static size_t
pass(struct lane *lane)
{
	const struct pass_order order = { .interrupt = -1 };
	struct pass_report report;
	struct error error = { 0 };
	if (!pass_run(&lane->keeper, &order, &report, &error))
		fail_msg("%s", error.text);
	text_release(&report.trouble);
	return report.slots;
}

static struct stored_slot *
slots_of(struct lane *lane, size_t *ret_count)
{
	struct stored_slot *slots;
	struct error error = { 0 };
	if (!store_slots(lane->keeper.store, &slots, ret_count, &error))
		fail_msg("%s", error.text);
	return slots;
}

static void
check_calm(struct lane *lane)
{
	size_t count, after;
	struct stored_slot *before = slots_of(lane, &count);
	assert_int_equal(pass(lane), count);
	struct stored_slot *slots = slots_of(lane, &after);
	assert_int_equal(after, count);
	for (size_t i = 0; i < count; i++) {
		assert_int_equal(slots[i].job, before[i].job);
		assert_int_equal(slots[i].from, before[i].from);
		assert_int_equal(slots[i].to, before[i].to);
	}
	free(before);
	free(slots);
}

static void
count_slot(const struct stored_job *job, const struct stored_slot *slot,
    int ret[SITES][PRODUCTS][2])
{
	size_t site = strcmp(job->site, sites[0]) == 0 ? 0 : 1;
	for (size_t d = 0; d < job->dose_count; d++)
		for (size_t p = 0; p < PRODUCTS; p++)
			if (strcmp(job->dose[d].product, products[p]) == 0)
				ret[site][p][slot->from >= new_year ? 1 : 0]++;
}

static void
check_season(struct lane *lane)
{
	int used[SITES][PRODUCTS][2] = { 0 };
	struct stored_job *jobs;
	struct error error = { 0 };
	size_t count, job_count;
	struct stored_slot *slots = slots_of(lane, &count);
	assert_true(
	    store_jobs(lane->keeper.store, true, &jobs, &job_count, &error));
	for (size_t s = 0; s < count; s++)
		for (size_t j = 0; j < job_count; j++)
			if (jobs[j].id == slots[s].job)
				count_slot(&jobs[j], &slots[s], used);
	for (size_t s = 0; s < SITES; s++)
		for (size_t p = 0; p < PRODUCTS; p++)
			for (size_t year = 0; year < 2; year++)
				assert_true(used[s][p][year] <= lane->most[p]);
	stored_jobs_free(jobs, job_count);
	free(slots);
}

/*
 * The first job can be on 1 January only. The second comes before it, and was
 * queued behind it: beside that slot its year is full from then on, and the
 * days before are too near; without it there is room three days later.
 */
static void
two_jobs_that_shut_each_other_out_come_to_rest(void **state)
{
	struct lane lane = { .most = { 1, 1, 1 } };
	begin_lane(&lane, state,
	    SPRAYER SITE("s0", "200", "07:00-07:50")
		SITE("s1", "200", "06:00-06:45") PRODUCT("p0", "1", "3")
		    PRODUCT("p1", "1", "3") PRODUCT("p2", "1", "3"));
	queue(&lane, 0, 1, 2, 2);
	assert_int_equal(pass(&lane), 1);
	queue(&lane, 0, 1, 1, -1);
	assert_int_equal(pass(&lane), 1);
	check_season(&lane);
	check_calm(&lane);
	end_reading(&lane.reading);
}

static void
draw_lane(struct lane *lane, void **state, uint64_t *seed)
{
	char text[4096];
	int used = snprintf(text, sizeof text, "%s",
	    SPRAYER SITE("s0", "300", "07:00-07:50")
		SITE("s1", "150", "06:30-07:45"));
	for (size_t p = 0; p < PRODUCTS; p++) {
		lane->most[p] = draw_from(seed, 1, 3);
		used += snprintf(text + used, sizeof text - (size_t)used,
		    PRODUCT("%s", "%d", "%d"), products[p], lane->most[p],
		    draw_from(seed, 1, 3));
	}
	begin_lane(lane, state, text);
	lane->keeper.clock.at += draw_from(seed, -2, 2) * DAY;
}

static void
draw_job(struct lane *lane, uint64_t *seed)
{
	size_t site = draw_once_in(seed, 4) ? 1 : 0;
	unsigned tank = (unsigned)draw_from(seed, 1, (1 << PRODUCTS) - 1);
	int priority = draw_from(seed, 1, 3);
	queue(lane, site, tank, priority,
	    draw_once_in(seed, 2) ? draw_from(seed, 0, 6) : -1);
}

static void
the_season_holds_and_another_pass_changes_nothing(void **state)
{
	struct fixture *fixture = *state;
	uint64_t seed = 51;
	for (int n = 0; n < 80; n++) {
		struct lane lane = { .jobs = 0 };
		draw_lane(&lane, state, &seed);
		for (int step = 0; step < STEPS; step++) {
			for (int j = draw_from(&seed, 1, JOBS); j > 0; j--)
				draw_job(&lane, &seed);
			(void)pass(&lane);
			check_season(&lane);
			check_calm(&lane);
			lane.keeper.clock.at += draw_from(&seed, 0, 1) * DAY;
		}
		end_reading(&lane.reading);
		store_close(fixture->store);
		(void)empty_folder(fixture->folder);
		fixture->store = open_or_fail(fixture->path);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(
		    two_jobs_that_shut_each_other_out_come_to_rest, make_store,
		    remove_all),
		cmocka_unit_test_setup_teardown(
		    the_season_holds_and_another_pass_changes_nothing,
		    make_store, remove_all),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
