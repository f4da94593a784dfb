/* What the files that build the configuration's nouns share. */
#ifndef CONFIG_BUILD_H
#define CONFIG_BUILD_H

#include "config/config.h"
#include "config/document.h"

struct build {
	struct document *document;
	struct config *config;
};

/* Complains about the item when `good` is false; returns `good`. */
bool build_judge(struct build *build, const struct item *item, bool good,
    const struct error *error);

/* The text of a setting, or its fallback, or NULL. */
const char *build_text(const struct section *section, const char *name);

/* The same, kept with the configuration. */
const char *build_keep(
    struct build *build, const struct section *section, const char *name);

/* A quantity, or its fallback; 0 when there is neither. */
double build_quantity(
    struct build *build, const struct section *section, const char *name);

/* The place of a word in the setting's list; `fallback` when it is not said. */
size_t build_choice(struct build *build, const struct section *section,
    const char *name, size_t fallback);

/* One noun out of one section, put at the end of its array. */
void build_sprayer(struct build *build, const struct section *section);
void build_site(struct build *build, const struct section *section);
void build_product(struct build *build, const struct section *section);
void build_bench(struct build *build, const struct section *section);
void build_package(struct build *build, const struct section *section);
void build_practice(struct build *build, const struct section *section);

/* The text of a setting, kept with the configuration; "" when it is not said.
 */
const char *build_words(
    struct build *build, const struct section *section, const char *name);

/* The civil day of a setting; `fallback` when it is not said. */
int64_t build_date(struct build *build, const struct section *section,
    const char *name, int64_t fallback);

/* The class of droplets that the section tells. */
enum droplets build_droplets(
    struct build *build, const struct section *section);

/* The parts of a card: its limits; and, when all the rest is there, what it
   contradicts itself in and what it leaves out. */
void build_rules(struct build *build, const struct section *section,
    struct product *product);
void build_check_card(struct build *build, const struct section *section,
    struct product *product);

#endif
