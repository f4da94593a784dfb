/* Files that name other files: lines, folders, and what has to be whole. */
#include "unit/folder.h"

#include "config/document.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static bool
read_file(void **state, const char *name, struct document *ret)
{
	char path[PATH_BYTES];
	return document_read(path_in(state, name, path), ret);
}

static const struct section *
find_section(const struct document *document, const char *title)
{
	for (size_t i = 0; i < document->section_count; i++)
		if (strcmp(document->section[i].title, title) == 0)
			return &document->section[i];
	fail_msg("there is no section '%s'", title);
	return NULL;
}

static void
assert_origin(void **state, const struct item *item, const char *file, int line)
{
	char path[PATH_BYTES];
	assert_non_null(item);
	assert_string_equal(item->file, path_in(state, file, path));
	assert_int_equal(item->line, line);
}

static void
lines_are_counted_in_each_file(void **state)
{
	put_file(state, "main.conf",
	    "units = us\n"
	    "\n"
	    "include(\"sub/cards.conf\")\n"
	    "/* two\n"
	    "   lines */\n"
	    "product \"b\" {\n"
	    "\tlabel = \"of b\"\n"
	    "}\n"
	    "include('practice.conf') # the last\n"
	    "contact = \"x@example.net\"\n");
	char path[PATH_BYTES];
	assert_int_equal(mkdir(path_in(state, "sub", path), 0700), 0);
	/* counts from its own folder, and ends without a line end */
	put_file(state, "sub/cards.conf",
	    "# cards\n\ninclude(\"more.conf\")\n"
	    "product \"a\" {\n\tlabel = \"of a\"\n}");
	put_file(
	    state, "sub/more.conf", "product \"c\" { label = \"of c\" }\n");
	put_file(state, "practice.conf",
	    "practice \"daylight\" {\n\tlimit = yes\n\tsource = \"s\"\n}\n");
	struct document document;
	if (!read_file(state, "main.conf", &document))
		fail_msg("%s", text_string(&document.complaints));
	assert_int_equal(document.section_count, 5);
	const struct section *top = &document.section[0];
	assert_origin(state, section_item(top, "units"), "main.conf", 1);
	assert_origin(state, section_item(top, "contact"), "main.conf", 10);
	assert_origin(state,
	    section_item(find_section(&document, "a"), "label"),
	    "sub/cards.conf", 5);
	assert_origin(state,
	    section_item(find_section(&document, "b"), "label"), "main.conf",
	    7);
	assert_origin(state,
	    section_item(find_section(&document, "c"), "label"),
	    "sub/more.conf", 1);
	assert_origin(state,
	    section_item(find_section(&document, "daylight"), "source"),
	    "practice.conf", 3);
	document_release(&document);
}

static void
a_path_from_the_root_is_taken_as_it_is(void **state)
{
	char path[PATH_BYTES], text[PATH_BYTES + 20];
	put_file(state, "other.conf", "units = metric\n");
	(void)snprintf(text, sizeof text, "include(\"%s\")\n",
	    path_in(state, "other.conf", path));
	put_file(state, "main.conf", text);
	struct document document;
	assert_true(read_file(state, "main.conf", &document));
	assert_origin(state, section_item(&document.section[0], "units"),
	    "other.conf", 1);
	document_release(&document);
}

static void
a_comment_or_a_text_is_no_include(void **state)
{
	put_file(state, "main.conf",
	    "# include(\"absent.conf\")\n"
	    "/*\ninclude(\"absent.conf\")\n*/\n"
	    "contact = \"x\ninclude('absent.conf')\ny\"\n");
	struct document document;
	if (!read_file(state, "main.conf", &document))
		fail_msg("%s", text_string(&document.complaints));
	assert_string_equal(
	    section_item(&document.section[0], "contact")->value[0],
	    "x\ninclude('absent.conf')\ny");
	document_release(&document);
}

struct refusal {
	const char *main, *included; /* NULL: there is none */
	const char *where, *what;    /* in the complaint */
};

static const struct refusal refusals[] = {
	{ "\ninclude(\"other.conf\")\n", NULL, "main.conf:2: ", "other.conf" },
	{ "\ninclude(\"other.conf\")\n", "", "other.conf:1: ", "empty" },
	{ "include(\"main.conf\")\n", NULL, "main.conf:1: ", "" },
	{ "include(\"other.conf\")\n", "include(\"main.conf\")\n",
	    "conf:1: ", "" },
	{ "include(\"other.conf\")\n", "\n\nlabl = \"x\"\n",
	    "other.conf:3: ", "labl" },
	{ "include(\"other.conf\")\nlabl = \"x\"\n", "units = us\n",
	    "main.conf:2: ", "labl" },
	{ "units = us\ninclude(\"other.conf\")\n", "\nunits = us\n",
	    "other.conf:2: ", "twice" },
	{ "product \"a\" {\n}\ninclude(\"other.conf\")\n",
	    "product \"a\" {\n}\n", "other.conf:", "'a'" },
	{ "include(\"other.conf\")\n", "contact = \"caf\xe9\"\n",
	    "other.conf:1: ", "UTF-8" },
	{ "include(\"other.conf\")\n", "contact = \"x\n", "other.conf:", "" },
	{ "include(\"other.conf\")\n\"\n", "contact = \"x\n",
	    "other.conf:", "" },
	{ "include(\"other.conf\")\n*/\n", "/* x\n", "other.conf:", "" },
	{ "include(\"other.conf\")\n", "product \"a\" {\nlabel = \"x\"\n",
	    "conf:", "'}'" },
	/* the other half of a section that was cut off */
	{ "include(\"other.conf\")\n}\n", "product \"a\" {\nlabel = \"x\"\n",
	    "other.conf:2: ", "section" },
	{ "product \"a\" {\ninclude(\"other.conf\")\n}\n", "label = \"x\"\n",
	    "other.conf:1: ", "section" },
	{ "include(\"\")\n", NULL, "main.conf:1: ", "" },
	{ "include(other.conf)\n", "units = us\n", "main.conf:1: ", "" },
	{ "include\n", "units = us\n", "main.conf:1: ", "" },
	{ "include(\"other.conf\", \"other.conf\")\n", "# \n",
	    "main.conf:1: ", "" },
	{ "include(\".\")\n", NULL, "main.conf:1: ", "" },
};

static void
what_is_wrong_is_told_with_its_file(void **state)
{
	char path[PATH_BYTES];
	for (size_t i = 0; i < COUNT(refusals); i++) {
		const struct refusal *row = &refusals[i];
		struct document document;
		put_file(state, "main.conf", row->main);
		(void)remove(path_in(state, "other.conf", path));
		if (row->included != NULL)
			put_file(state, "other.conf", row->included);
		if (read_file(state, "main.conf", &document))
			fail_msg("row %zu is read", i);
		const char *text = text_string(&document.complaints);
		assert_memory_equal(text, *state, strlen(*state));
		assert_contains(text, row->where);
		assert_contains(text, row->what);
		document_release(&document);
	}
}

static void
an_included_nul_is_no_text(void **state)
{
	static const char bytes[] = "contact = \"a\0b\"\n";
	struct document document;
	put_file(state, "main.conf", "include(\"other.conf\")\n");
	put_bytes(state, "other.conf", bytes, sizeof bytes - 1);
	assert_false(read_file(state, "main.conf", &document));
	assert_contains(text_string(&document.complaints), "other.conf:1: ");
	assert_contains(text_string(&document.complaints), "NUL");
	document_release(&document);
}

/* A faulty file costs nothing: the daemon reads again and again. */
static void
a_good_file_is_read_after_many_bad_ones(void **state)
{
	struct document document;
	put_file(state, "main.conf", "include(\"other.conf\")\n");
	put_file(state, "self.conf", "include(\"self.conf\")\n");
	for (int i = 0; i < 2000; i++) {
		put_file(state, "other.conf", "\nlabl = \"x\"\n");
		assert_false(read_file(
		    state, i % 2 == 0 ? "main.conf" : "self.conf", &document));
		document_release(&document);
	}
	put_file(state, "other.conf", "\nunits = us\n");
	if (!read_file(state, "main.conf", &document))
		fail_msg("%s", text_string(&document.complaints));
	assert_origin(state, section_item(&document.section[0], "units"),
	    "other.conf", 2);
	document_release(&document);
}

/* The same as for one file: a card is whole, or there is none. */
static void
no_cut_of_an_included_file_thins_a_card(void **state)
{
	static const char card[] = "product \"a\" {\n"
				   "\tlabel = \"x\"\n"
				   "\train-free = \"12 h\"\n"
				   "\tturf = { dormant, green }\n"
				   "}\n";
	static const char *const mains[] = {
		"include(\"other.conf\")\n",
		"include(\"other.conf\")\nproduct \"b\" {\nlabel = \"y\"\n}\n"
	};
	for (size_t m = 0; m < COUNT(mains); m++)
		for (size_t length = 0; length < sizeof card; length++) {
			struct document document;
			put_file(state, "main.conf", mains[m]);
			put_bytes(state, "other.conf", card, length);
			bool good = read_file(state, "main.conf", &document);
			for (size_t i = 1; good && i < document.section_count;
			     i++) {
				const struct section *section =
				    &document.section[i];
				size_t wanted =
				    section->title[0] == 'a' ? 3 : 1;
				assert_int_equal(section->item_count, wanted);
			}
			document_release(&document);
		}
}

int
main(void)
{
	const struct CMUnitTest tests[] = {
		FOLDER_TEST(lines_are_counted_in_each_file),
		FOLDER_TEST(a_path_from_the_root_is_taken_as_it_is),
		FOLDER_TEST(a_comment_or_a_text_is_no_include),
		FOLDER_TEST(what_is_wrong_is_told_with_its_file),
		FOLDER_TEST(an_included_nul_is_no_text),
		FOLDER_TEST(a_good_file_is_read_after_many_bad_ones),
		FOLDER_TEST(no_cut_of_an_included_file_thins_a_card),
	};
	return RUN_TESTS(tests);
}
