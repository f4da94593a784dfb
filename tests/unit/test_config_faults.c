/* Every fault of a configuration becomes a line; none becomes a default. */
#include "unit/config_fixture.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

enum { ROOM = 8192 };

/* "file:line: ..." and nothing else; returns their number. */
static int
check_lines(const char *text)
{
	int lines = 0;
	for (const char *at = text; *at != '\0'; lines++) {
		const char *end = strchr(at, '\n');
		assert_non_null(end);
		assert_memory_equal(at, "t.conf:", 7);
		char *colon;
		long line = strtol(at + 7, &colon, 10);
		assert_true(line > 0);
		assert_memory_equal(colon, ": ", 2);
		assert_true(end > colon + 2);
		at = end + 1;
	}
	assert_true(text_is_utf8(text, strlen(text)));
	return lines;
}

static void
assert_complaints(const char *text, int count, const char *part)
{
	struct reading reading = read_text(text);
	const char *complaints = text_string(&reading.complaints);
	if (reading.good)
		fail_msg("is read, wanted: %s", part);
	if (check_lines(complaints) != count)
		fail_msg("%s: not %d complaints", complaints, count);
	assert_contains(complaints, part);
	end_reading(&reading);
}

struct fault {
	const char *text; /* behind GOOD, which has 30 lines */
	int count;
	const char *part;
};

#define CARD(line) "product \"x\" {\nlabel = \"l\"\n" line "\n}\n"
#define SITE(line)                                                             \
	"site \"x\" {\nlatitude = \"0 deg\"\nlongitude = \"0 deg\"\n"          \
	"area = \"1 m2\"\n" line "\n}\n"
#define PLACE "sprayer = backpack\nzone = UTC\n"
#define AIR   "forecast = \"nws-grid file:x\"\n"

static const struct fault faults[] = {
	{ CARD("rain-free = \"12 hours of\""), 1, "t.conf:33: rain-free: " },
	{ CARD("temperature-ceiling = \"at least 85 degF\""), 1,
	    "t.conf:33: temperature-ceiling: " },
	{ CARD("temperature-ceiling = \"85 mph\""), 1, "t.conf:33: " },
	{ CARD("re-treatment = \"2000 d\""), 1, "t.conf:33: re-treatment: " },
	{ CARD("keep-off = \"31 d\""), 1, "t.conf:33: keep-off: " },
	{ CARD("rate = \"0 g/m2\""), 1, "t.conf:33: rate: " },
	{ CARD("rate = \"3 mph\""), 1, "t.conf:33: rate: " },
	{ CARD("daylight = maybe"), 1, "t.conf:33: daylight: " },
	{ CARD("turf = { green, brown }"), 1, "t.conf:33: turf: 'brown'" },
	{ CARD("label-rules = { rain }"), 1, "t.conf:33: label-rules: " },
	{ CARD("label-rules = { turf }"), 1, "t.conf:33: label-rules: " },
	{ "product \"x\" {\n}\n", 1, "t.conf:32: product \"x\": label is" },
	{ "product \"a lawn\" {\nlabel = \"l\"\n}\n", 1,
	    "t.conf:33: product \"a lawn\": " },
	{ "product \"\" {\nlabel = \"l\"\n}\n", 1, "t.conf:33: product \"\"" },
	{ "sprayer \"x\" {\n}\n", 3, "t.conf:32: sprayer \"x\": pace is" },
	{ "sprayer \"x\" {\ntank = \"0 L\"\ncarrier = \"1 L\"\n"
	  "pace = \"fast\"\n}\n",
	    3, "t.conf:33: carrier: " },
	{ SITE(PLACE AIR "hours = \"10:00-09:00\""), 1, ": hours: " },
	{ SITE(PLACE AIR "hours = { \"07:00-09:00\", \"x\" }"), 1,
	    "t.conf:38: hours: 'x'" },
	{ SITE(PLACE AIR "turf = { \"2026-03-01 green\", \"2026-03-01 "
			 "dormant\" }"),
	    1, "t.conf:38: turf: " },
	{ SITE(PLACE AIR "turf = \"2026-02-30 green\""), 1, ": turf: " },
	{ SITE(PLACE "forecast = grib"), 1,
	    "t.conf:37: forecast: there is no forecast format \"grib\"" },
	{ SITE(PLACE "forecast = \"file:x\""), 1,
	    "t.conf:37: forecast: there is no forecast format \"file:x\"" },
	{ SITE(PLACE "forecast = { \"nws-grid file:x\", grib }"), 1,
	    "t.conf:37: forecast: " },
	{ SITE(PLACE "forecast = { \"nws-grid file:x\", "
		     "\"met-norway file:x\" }"),
	    1, "t.conf:37: forecast: 'met-norway' is named twice" },
	{ SITE(PLACE "forecast = \"open-meteo https://example.net/{lat}\""), 1,
	    "t.conf:37: forecast: '{lat}' is not a word" },
	{ SITE(PLACE AIR "use = hobby"), 1, "t.conf:38: use: 'hobby'" },
	{ SITE(PLACE AIR "soil = \"54 degF\""), 1, "t.conf:38: soil: " },
	{ SITE(PLACE AIR "soil = \"2026-02-30 54 degF\""), 1, ": soil: " },
	{ SITE(PLACE AIR "soil = \"2026-03-01 54 mph\""), 1, ": soil: " },
	{ SITE(PLACE AIR "soil = \"2026-03-01 200 degF\""), 1, ": soil: " },
	{ SITE(PLACE AIR "soil = { \"2026-03-02 54 degF\", "
			 "\"2026-03-01 54 degF\" }"),
	    1, "t.conf:38: soil: " },
	{ SITE(PLACE AIR "yearly-mean = \"54 mph\""), 1, ": yearly-mean: " },
	{ SITE(PLACE AIR "degree-base = \"54 degC\""), 1, ": degree-base: " },
	{ SITE(PLACE AIR "rain-chance = \"0 %\""), 1, ": rain-chance: " },
	{ SITE("sprayer = boom\nzone = UTC\n" AIR), 1,
	    "t.conf:35: sprayer: there is no sprayer \"boom\"" },
	{ SITE("sprayer = backpack\nzone = Mars/Olympus\n" AIR), 1,
	    "t.conf:36: zone: " },
	{ SITE(PLACE "forecast = \"nws-grid ftp://example.net/x\"\n"), 1,
	    "t.conf:37: forecast: " },
	{ SITE(PLACE "forecast = \"nws-grid /var/f.json\"\n"), 1,
	    ": forecast: " },
	{ "site \"x\" {\n}\n", 6, "t.conf:32: site \"x\": zone is missing" },
	{ "site \"x\" {\nlatitude = \"91 deg\"\nlongitude = \"181 deg\"\n"
	  "area = \"0 m2\"\n" PLACE AIR "}\n",
	    3, "t.conf:34: area: " },
	{ "practice \"rain\" {\nlimit = \"1 h\"\nsource = \"s\"\n}\n", 1,
	    "t.conf:34: practice \"rain\": " },
	{ "practice \"turf\" {\nlimit = green\nsource = \"s\"\n}\n", 1,
	    "t.conf:34: practice \"turf\": " },
	{ "practice \"re-treatment\" {\nlimit = \"9 d\"\nsource = \"s\"\n}\n",
	    1, "t.conf:34: practice \"re-treatment\": " },
	{ "practice \"label\" {\nlimit = \"9 d\"\nsource = \"s\"\n}\n", 1,
	    "t.conf:34: practice \"label\": " },
	{ "practice \"daylight\" {\nsource = \"s\"\n}\n", 1, "limit is" },
	{ "practice \"daylight\" {\nlimit = yes\n}\n", 1, "source is" },
	{ "practice \"wind-maximum\" {\nlimit = \"at least 3 mph\"\n"
	  "source = \"s\"\n}\n",
	    1, "t.conf:32: limit: " },
};

static void
a_fault_is_told_with_file_line_and_setting(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(faults); i++) {
		char text[ROOM];
		(void)snprintf(text, sizeof text, "%s%s", GOOD, faults[i].text);
		assert_complaints(text, faults[i].count, faults[i].part);
	}
}

static void
faults_at_the_top_are_told(void **state)
{
	(void)state;
	assert_complaints("units = imperial\n", 1, "t.conf:1: units: ");
	assert_complaints("\nevening-alarm = 7pm\n", 1, "t.conf:2: evening-");
	assert_complaints("keep-off = \"31 d\"\npoll-minimum = \"0 s\"\n"
			  "forecast-good-for = \"30 min\"\n",
	    3, "t.conf:3: forecast-good-for: ");
}

/* The service asks who runs this, so that has to be said before. */
static void
a_forecast_from_the_web_needs_a_contact(void **state)
{
	(void)state;
	static const char site[] =
	    "sprayer \"backpack\" {\ntank = \"9 L\"\n"
	    "carrier = \"1 L/m2\"\npace = \"1 m2/s\"\n}\n" SITE(
		PLACE "forecast = \"nws-grid https://example.net/x\"\n");
	assert_complaints(site, 1, "t.conf:12: forecast: ");
	char text[ROOM];
	(void)snprintf(
	    text, sizeof text, "%scontact = \"x@example.net\"\n", site);
	struct reading reading = read_good(text);
	end_reading(&reading);
}

/* The terms of one free service (its terms page): not for business. */
static void
a_professional_may_not_use_what_is_free_for_others(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		bool free; /* for uses that are not commercial only */
	} rows[] = { { "open-meteo", true },
		{ "open-meteo https://api.open-meteo.com/v1/x", true },
		{ "open-meteo https://API.Open-Meteo.com:443/v1/x", true },
		{ "open-meteo-ensemble", true },
		{ "open-meteo https://customer-api.open-meteo.com/v1/forecast"
		  "?{query}&apikey=k",
		    false },
		{ "open-meteo https://example.net/v1/x", false },
		{ "nws-grid", false }, { "met-norway", false } };
	static const char *const uses[] = { "", "use = home\n",
		"use = professional\n" };
	for (size_t r = 0; r < COUNT(rows); r++)
		for (size_t u = 0; u < 3; u++) {
			char text[ROOM];
			(void)snprintf(text, sizeof text,
			    "contact = \"x@example.net\"\n"
			    "sprayer \"backpack\" {\ntank = \"9 L\"\n"
			    "carrier = \"1 L/m2\"\npace = \"1 m2/s\"\n}\n" SITE(
				PLACE "forecast = \"%s\"\n%s"),
			    rows[r].source, uses[u]);
			if (rows[r].free && u == 2) {
				assert_complaints(
				    text, 1, "t.conf:13: forecast: ");
				continue;
			}
			struct reading reading = read_good(text);
			end_reading(&reading);
		}
}

struct pair {
	const char *lines;
	bool contradiction;
};

static const struct pair pairs[] = {
	{ "temperature-floor = \"50 degF\"\ntemperature-ceiling = \"85 degF\"",
	    false },
	{ "temperature-floor = \"86 degF\"\ntemperature-ceiling = \"85 degF\"",
	    true },
	{ "temperature-ceiling = \"85 degF\"\ntemperature-floor = \"86 degF\"",
	    true },
	{ "wind-minimum = \"3 mph\"\nwind-maximum = \"3 mph\"", false },
	{ "wind-minimum = \"3 mph\"\nwind-maximum = \"below 3 mph\"", true },
	{ "wind-minimum = \"above 3 mph\"\nwind-maximum = \"3 mph\"", true },
	{ "wind-minimum = \"5 mph\"\nwind-maximum = \"3 mph\"", true },
	{ "delta-t-minimum = \"9 K\"\ndelta-t-maximum = \"8 K\"", true },
	/* a job that is warmer than its whole day may be */
	{ "temperature-floor = \"20 degC\"\nday-high = \"below 20 degC\"",
	    true },
	/* a cool morning of a warm day */
	{ "day-high = \"at least 20 degC\"\n"
	  "temperature-ceiling = \"below 15 degC\"",
	    false },
	{ "wind-minimum = \"20 mph\"\ngust-maximum = \"15 mph\"", false },
};

static void
a_card_that_contradicts_itself_is_refused(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(pairs); i++) {
		char text[ROOM];
		(void)snprintf(text, sizeof text,
		    "product \"x\" {\nlabel = \"l\"\n%s\n}\n", pairs[i].lines);
		if (pairs[i].contradiction) {
			assert_complaints(text, 1, "ceiling");
			continue;
		}
		struct reading reading = read_good(text);
		end_reading(&reading);
	}
}

/* One reading tells all faults, so that they are mended in one go. */
static void
all_complaints_are_told_up_to_the_ceiling(void **state)
{
	(void)state;
	for (int faulty = 1; faulty <= 40; faulty++) {
		char text[ROOM];
		size_t used = 0;
		for (int i = 0; i < faulty; i++)
			used +=
			    (size_t)snprintf(text + used, sizeof text - used,
				"product \"p%d\" {\nlabel = \"l\"\n"
				"rain-free = \"%d parsec\"\n}\n",
				i, i);
		char last[40];
		int told =
		    faulty < LIMIT_CONFIG_ERRORS ? faulty : LIMIT_CONFIG_ERRORS;
		(void)snprintf(
		    last, sizeof last, "t.conf:%d: rain-free: ", 4 * told - 1);
		assert_complaints(text, told, last);
	}
}

static void
a_refused_file_leaves_the_configuration_alone(void **state)
{
	(void)state;
	static const char *const texts[] = { "", "units = imperial\n",
		"product \"x\" {\n", GOOD CARD("rate = \"0 g/m2\"") };
	for (size_t i = 0; i < COUNT(texts); i++) {
		struct config config, before;
		struct text complaints;
		memset(&before, 0x5a, sizeof before);
		memcpy(&config, &before, sizeof config);
		text_init(&complaints, 1000);
		assert_true(text_add(&complaints, "before\n"));
		assert_false(config_read_bytes("t.conf", texts[i],
		    strlen(texts[i]), &config, &complaints));
		assert_memory_equal(&config, &before, sizeof config);
		assert_memory_equal(
		    text_string(&complaints), "before\nt.conf:", 14);
		text_release(&complaints);
	}
}

static void
a_file_that_is_not_there_is_a_complaint(void **state)
{
	char path[PATH_BYTES];
	struct config config;
	struct text complaints;
	text_init(&complaints, 1000);
	assert_false(config_read(
	    path_in(state, "absent.conf", path), &config, &complaints));
	assert_contains(text_string(&complaints), path);
	text_release(&complaints);
}

/* However it is cut: a card that is there has all of its rules. */
static void
no_cut_of_a_good_file_loses_a_rule(void **state)
{
	(void)state;
	static const char text[] = GOOD MORE;
	for (size_t length = 0; length < sizeof text; length++) {
		struct config config;
		struct text complaints;
		text_init(&complaints, 100000);
		bool good = config_read_bytes(
		    "t.conf", text, length, &config, &complaints);
		if (!good) {
			assert_true(check_lines(text_string(&complaints)) > 0);
			text_release(&complaints);
			continue;
		}
		const struct product *card = config_product(&config, "post-a");
		if (card != NULL) {
			assert_int_equal(card->rule_count, 5);
			assert_int_equal(card->override_count, 2);
			assert_close(card->keep_off, 24 * 3600, 0);
		}
		const struct site *site = config_site(&config, "front");
		if (site != NULL)
			assert_int_equal(site->told_count, 2);
		text_release(&complaints);
		config_release(&config);
	}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_fault_is_told_with_file_line_and_setting),
		cmocka_unit_test(faults_at_the_top_are_told),
		cmocka_unit_test(a_forecast_from_the_web_needs_a_contact),
		cmocka_unit_test(
		    a_professional_may_not_use_what_is_free_for_others),
		cmocka_unit_test(a_card_that_contradicts_itself_is_refused),
		cmocka_unit_test(all_complaints_are_told_up_to_the_ceiling),
		cmocka_unit_test(a_refused_file_leaves_the_configuration_alone),
		FOLDER_TEST(a_file_that_is_not_there_is_a_complaint),
		cmocka_unit_test(no_cut_of_a_good_file_loses_a_rule),
	};
	return RUN_TESTS(tests);
}
