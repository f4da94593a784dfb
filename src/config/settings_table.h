/* The rows of the table of settings; private to src/config. */
#ifndef CONFIG_SETTINGS_TABLE_H
#define CONFIG_SETTINGS_TABLE_H

#include "config/settings.h"

#define HOUR 3600.0
#define DAY  86400.0
#define YEAR (366 * DAY)

#define DROPLETS                                                               \
	"extremely-fine very-fine fine medium coarse very-coarse "             \
	"extremely-coarse ultra-coarse"
#define MIX_STEPS_WORDS                                                        \
	"first packet dry conditioner dispersed drift-retardant solution "     \
	"adjuvant dye fertilizer defoamer last"
#define SPECIES "bermuda zoysia centipede st-augustine"

/* Those of a product, and all others. */
extern const struct setting settings_of_card[];
extern const size_t settings_of_card_count;
extern const struct setting settings_of_place[];
extern const size_t settings_of_place_count;

#endif
