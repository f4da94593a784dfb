/*
 * The configuration, understood: nouns of the trade out of a document. Every
 * fault gets one line "file:line: setting: sentence"; one reading tells them
 * all, and a configuration with a fault is not used at all: a wrong limit must
 * never become a default one.
 */
#ifndef CONFIG_CONFIG_H
#define CONFIG_CONFIG_H

#include "base/arena.h"
#include "base/text.h"
#include "turf/turf.h"

struct config {
	struct arena arena; /* owns all below */
	const char *path;   /* as it was given */
	char *folder;       /* where it lies, absolute */
	enum unit_system units;
	const char *contact;       /* NULL when not given */
	const char *calendar;      /* NULL: in the state folder */
	const char *page;          /* NULL: in the state folder */
	int evening_alarm;         /* seconds after midnight */
	double forecast_good_for;  /* s */
	double poll_minimum;       /* s */
	double requests_per_hour;  /* to one host */
	double archive_for;        /* s */
	double archive_megabytes;  /* millions of bytes, packed */
	double keep_off;           /* s */
	const char *applicator;    /* who sprays, for the record; "" */
	const char *certification; /* of the applicator; "" */
	const char *currency;      /* printed behind prices; "" */
	struct bench bench;        /* what the keeper measures with */
	struct sprayer *sprayers;
	size_t sprayer_count;
	struct site *sites;
	size_t site_count;
	struct product *products;
	size_t product_count;
	struct package *packages;
	size_t package_count;
	struct rule *practice; /* all of the practice sections */
	size_t practice_count;
};

/*
 * Fills *ret, or leaves it alone and appends the complaints to `complaints`,
 * one line each. Release with config_release.
 */
bool config_read(const char *path, struct config *ret, struct text *complaints);
bool config_read_bytes(const char *name, const char *bytes, size_t length,
    struct config *ret, struct text *complaints);
void config_release(struct config *config);

/* NULL when there is none of that name. */
const struct site *config_site(const struct config *config, const char *name);
const struct product *config_product(
    const struct config *config, const char *name);

#endif
