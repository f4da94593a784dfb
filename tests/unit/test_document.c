/* What is read from a file, where it says that it was, and what is refused. */
#include "unit/folder.h"

#include "base/limits.h"
#include "config/document.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static bool
read_text(const char *text, struct document *ret)
{
	return document_read_bytes("t.conf", text, strlen(text), ret);
}

static const struct section *
find_section(const struct document *document, enum setting_place place,
    const char *title)
{
	for (size_t i = 0; i < document->section_count; i++)
		if (document->section[i].place == place &&
		    strcmp(document->section[i].title, title) == 0)
			return &document->section[i];
	fail_msg("there is no section '%s'", title);
	return NULL;
}

static void
assert_item(const struct section *section, const char *name, const char *file,
    int line, const char *value)
{
	const struct item *item = section_item(section, name);
	if (item == NULL) {
		fail_msg("%s is not there", name);
		return;
	}
	const char *base = strrchr(item->file, '/');
	assert_string_equal(base == NULL ? item->file : base + 1, file);
	assert_int_equal(item->line, line);
	assert_ptr_equal(item->setting, setting_find(section->place, name));
	char all[400] = "";
	for (size_t i = 0; i < item->value_count; i++)
		(void)snprintf(all + strlen(all), sizeof all - strlen(all),
		    "%s%s", i > 0 ? "|" : "", item->value[i]);
	assert_string_equal(all, value);
}

static void
settings_come_with_their_lines(void **state)
{
	(void)state;
	struct document document;
	assert_true(read_text("# a comment\n"
			      "units = metric\n"
			      "\n"
			      "/* a comment\n"
			      "   of three\n"
			      "   lines */\n"
			      "product \"post-a\" {\n"
			      "\tlabel = \"a label\" // and its comment\n"
			      "\ttemperature-ceiling =\n"
			      "\t\t\"below 85 degF\"\n"
			      "\tturf = { \"dormant\",\n"
			      "\t\t\"green\" }\n"
			      "}\n"
			      "product dye { label = 'b # \"c\"' }\n",
	    &document));
	assert_int_equal(document.complaint_count, 0);
	assert_string_equal(text_string(&document.complaints), "");
	assert_int_equal(document.section_count, 3);
	const struct section *top = &document.section[0];
	assert_int_equal(top->place, PLACE_TOP);
	assert_item(top, "units", "t.conf", 2, "metric");
	assert_null(section_item(top, "contact"));
	const struct section *card =
	    find_section(&document, PLACE_PRODUCT, "post-a");
	assert_int_equal(card->item_count, 3);
	assert_int_equal(card->line, 13);
	assert_item(card, "label", "t.conf", 8, "a label");
	assert_item(card, "temperature-ceiling", "t.conf", 10, "below 85 degF");
	assert_item(card, "turf", "t.conf", 11, "dormant|green");
	assert_item(find_section(&document, PLACE_PRODUCT, "dye"), "label",
	    "t.conf", 14, "b # \"c\"");
	document_release(&document);
	document_release(&document);
	document_release(NULL);
}

static void
a_list_has_many_forms(void **state)
{
	(void)state;
	static const char *const forms[][2] = {
		{ "{ \"dormant\", \"green\" }", "dormant|green" },
		{ "{dormant,green}", "dormant|green" },
		{ "{ \"dormant\", \"green\", }", "dormant|green" },
		{ "{ \"dormant\" }", "dormant" },
		{ "dormant", "dormant" },
		{ "\"dormant\"", "dormant" },
		{ "dormant\nturf += green", "dormant|green" },
		{ "{ dormant }\nturf += { green }", "dormant|green" },
	};
	for (size_t i = 0; i < COUNT(forms); i++) {
		char text[200];
		struct document document;
		(void)snprintf(text, sizeof text,
		    "product \"p\" {\nturf = %s\n}\n", forms[i][0]);
		if (!read_text(text, &document))
			fail_msg("%s", text_string(&document.complaints));
		assert_item(find_section(&document, PLACE_PRODUCT, "p"), "turf",
		    "t.conf", 2, forms[i][1]);
		document_release(&document);
	}
}

struct refusal {
	const char *text, *complaint;
};

static const struct refusal refusals[] = {
	{ "", "t.conf:1: the file is empty" },
	{ "units = us\nunits = us\n", "t.conf:2: units is written twice" },
	{ "product \"a\" {\nkeep-off = \"1 h\"\nkeep-off = \"1 h\"\n}\n",
	    "t.conf:3: keep-off is written twice (first in line 2)" },
	{ "product \"a\" {\nturf = green\nturf = dormant\n}\n",
	    "t.conf:3: turf is written twice (first in line 2)" },
	{ "product \"a\" {\nturf = { green }\n\nturf = { green }\n}\n",
	    "t.conf:4: turf is written twice" },
	{ "product \"a\" {\n}\nproduct \"a\" {\n}\n", "t.conf:3: " },
	{ "product \"a\" {\nlabl = \"x\"\n}\n", "t.conf:2: no such" },
	{ "product \"a\" {\nunits = us\n}\n", "t.conf:2: no such" },
	{ "rain-free = \"12 h\"\n", "t.conf:1: no such" },
	{ "Units = us\n", "t.conf:1: no such" },
	{ "\nprodukt \"a\" {\n}\n", "t.conf:2: no such" },
	{ "product {\n}\n", "t.conf:1: " },
	{ "product \"a\" {\nlabel = \"x\"\n", "'}' is missing" },
	{ "product \"a\" {\nproduct \"b\" {\n}\n", "t.conf:2: no such" },
	{ "product \"a\" {\n}\n}\n", "t.conf:3: " },
	{ "product \"a\" {\nlabel = \"x\n}\n", "t.conf:" },
	{ "product \"a\" {\nlabel = 'x\n}\n", "t.conf:" },
	{ "units = us\n/* no end\nproduct \"a\" {\n}\n", "t.conf:" },
	{ "product \"a\" {\nlabel = x y\n}\n", "t.conf:2: " },
	{ "product \"a\" {\nlabel\n}\n", "t.conf:" },
	{ "product \"a\" {\nlabel = }\n", "t.conf:2: " },
	{ "product \"a\" {\nlabel = {\"x\"}\n}\n", "t.conf:2: " },
	{ "product \"a\" {\nturf = { green dormant }\n}\n", "t.conf:2: " },
	{ "product \"a\" {\nturf = { }\n}\n", "turf is an empty list" },
	{ "product \"a\" {\nturf = green\nturf = { }\n}\n",
	    "turf is an empty list" },
	{ "site \"a\" {\nhours = {}\n}\n", "hours is an empty list" },
	{ "contact = \"\"\n", "t.conf:1: contact is empty" },
	{ "product \"a\" {\nturf = { \"\" }\n}\n", "t.conf:2: turf is empty" },
	{ "product \"a\" {\nlabel = \"caf\xe9\"\n}\n",
	    "t.conf:2: label is not UTF-8 text" },
	{ "product \"a\" {\nturf = { green, \"\xff\" }\n}\n",
	    "t.conf:2: turf is not UTF-8 text" },
	{ "product \"a\" {\nlabel = \"x\" }\nlull-end-of-file = yes\n",
	    "lull-end-of-file" },
	{ "product \"a\" {\nlull-end-of-file = yes\n", "lull-end-of-file" },
};

static void
check_refused(bool good, struct document *document, const char *complaint)
{
	if (good || document->complaint_count == 0)
		fail_msg("what should end with '%s' is read", complaint);
	const char *text = text_string(&document->complaints);
	assert_contains(text, complaint);
	assert_memory_equal(text, "t.conf:", 7);
	assert_int_equal(text[strlen(text) - 1], '\n');
	assert_true(text_is_utf8(text, strlen(text)));
	document_release(document);
}

/* And whatever it was, the next file is read as if nothing had been. */
static void
what_is_wrong_is_refused_with_its_line(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(refusals); i++) {
		struct document document;
		bool good = read_text(refusals[i].text, &document);
		check_refused(good, &document, refusals[i].complaint);
		assert_true(read_text("units = us\n", &document));
		assert_item(&document.section[0], "units", "t.conf", 1, "us");
		document_release(&document);
	}
}

static void
a_nul_byte_is_not_text(void **state)
{
	(void)state;
	struct document document;
	static const char bytes[] = "contact = \"a\0b\"\n";
	check_refused(
	    document_read_bytes("t.conf", bytes, sizeof bytes - 1, &document),
	    &document, "NUL");
	check_refused(document_read_bytes("t.conf", "\0", 1, &document),
	    &document, "NUL");
}

static void
a_value_has_a_greatest_length(void **state)
{
	(void)state;
	static char text[LIMIT_TEXT_BYTES + 100];
	for (int more = 0; more < 2; more++) {
		struct document document;
		(void)snprintf(text, sizeof text, "contact = \"%0*d\"\n",
		    LIMIT_TEXT_BYTES + more, 7);
		bool good = read_text(text, &document);
		if (more > 0) {
			check_refused(good, &document,
			    "t.conf:1: contact is longer than 1000 bytes");
			continue;
		}
		assert_true(good);
		document_release(&document);
	}
}

static void
a_file_has_a_greatest_length(void **state)
{
	static char bytes[LIMIT_CONFIG_BYTES + 1];
	char path[PATH_BYTES];
	struct document document;
	memset(bytes, '\n', sizeof bytes);
	bytes[0] = '#';
	put_bytes(state, "long.conf", bytes, sizeof bytes);
	assert_false(
	    document_read(path_in(state, "long.conf", path), &document));
	assert_contains(text_string(&document.complaints), "longer than");
	document_release(&document);
	assert_false(
	    document_read(path_in(state, "absent.conf", path), &document));
	assert_contains(text_string(&document.complaints), path);
	assert_int_equal(document.complaint_count, 1);
	document_release(&document);
}

static void
complaints_are_told_up_to_the_ceiling(void **state)
{
	(void)state;
	struct document document;
	assert_true(read_text("units = us\nsite \"a\" {\n}\n", &document));
	const struct item *item = section_item(&document.section[0], "units");
	for (int i = 0; i < LIMIT_CONFIG_ERRORS + 5; i++)
		if (i % 2 == 0)
			document_complain(&document, item, "is odd");
		else
			document_complain_section(
			    &document, &document.section[1], "is even");
	assert_int_equal(document.complaint_count, LIMIT_CONFIG_ERRORS + 5);
	const char *text = text_string(&document.complaints);
	assert_contains(text, "t.conf:1: units: is odd\n");
	assert_contains(text, "t.conf:3: site \"a\": is even\n");
	int lines = 0;
	for (const char *c = text; *c != '\0'; c++)
		lines += *c == '\n' ? 1 : 0;
	assert_int_equal(lines, LIMIT_CONFIG_ERRORS);
	document_release(&document);
}

static const char long_card[] = "units = \"metric\"\n"
				"# Two cards, and a site between them.\n"
				"product \"post-a\" {\n"
				"\tlabel = \"a label\"\n"
				"\trate = \"1.5 fl oz/1000 ft2\"\n"
				"\ttemperature-ceiling = \"below 85 degF\"\n"
				"\train-free = \"12 h\" /* { */\n"
				"\tturf = { \"dormant\", \"green\" }\n"
				"\tlabel-rules = wind-maximum\n"
				"}\n"
				"site \"front\" {\n"
				"\thours = { \"06:30-10:30\" }\n"
				"\thours += { \"18:00-20:00\" }\n"
				"\tarea = 6500ft2\n"
				"}\n"
				"product 'dye' {\n"
				"\tlabel = 'a \"label\" }'\n"
				"\tdaylight = yes\n"
				"}\n"
				"contact = \"keeper@example.net\"\n";

static bool
same_item(const struct item *a, const struct item *b)
{
	if (b == NULL || a->value_count != b->value_count)
		return false;
	for (size_t i = 0; i < a->value_count; i++)
		if (strcmp(a->value[i], b->value[i]) != 0)
			return false;
	return true;
}

/* What was read of a section is as it is in the whole file. */
static void
check_section(
    const struct section *part, const struct section *all, size_t length)
{
	if (part->place != PLACE_TOP && part->item_count != all->item_count)
		fail_msg(
		    "cut at %zu: %s has lost a setting", length, part->title);
	for (size_t i = 0; i < part->item_count; i++) {
		const struct item *item = &part->item[i];
		if (!same_item(item, section_item(all, item->setting->name)))
			fail_msg("cut at %zu: %s is another", length,
			    item->setting->name);
	}
}

static void
check_sections(
    const struct document *cut, const struct document *whole, size_t length)
{
	for (size_t i = 0; i < cut->section_count; i++) {
		const struct section *part = &cut->section[i];
		check_section(part,
		    find_section(whole, part->place, part->title), length);
	}
}

/* A file that was cut off is refused, or it ends between two sections. */
static void
no_cut_takes_a_setting_from_a_section(void **state)
{
	(void)state;
	struct document whole, cut;
	size_t all = sizeof long_card - 1, good = 0;
	assert_true(document_read_bytes("t.conf", long_card, all, &whole));
	assert_int_equal(whole.section_count, 4);
	for (size_t length = 0; length <= all; length++) {
		if (document_read_bytes("t.conf", long_card, length, &cut)) {
			check_sections(&cut, &whole, length);
			good++;
		} else {
			assert_true(cut.complaint_count > 0);
		}
		document_release(&cut);
	}
	/* some of those between the sections, but few */
	assert_in_range(good, 5, 80);
	document_release(&whole);
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(settings_come_with_their_lines),
		cmocka_unit_test(a_list_has_many_forms),
		cmocka_unit_test(what_is_wrong_is_refused_with_its_line),
		cmocka_unit_test(a_nul_byte_is_not_text),
		cmocka_unit_test(a_value_has_a_greatest_length),
		FOLDER_TEST(a_file_has_a_greatest_length),
		cmocka_unit_test(complaints_are_told_up_to_the_ceiling),
		cmocka_unit_test(no_cut_takes_a_setting_from_a_section),
	};
	return RUN_TESTS(tests);
}
