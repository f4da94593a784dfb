/* What `lull stock` looks at, and what it warns of. */
#ifndef CLI_STOCK_H
#define CLI_STOCK_H

#include "cli/session.h"
#include "service/stock.h"

struct stock {
	const struct config *config;
	struct shelf shelf;
	struct sprayer *sprayers; /* owned */
	struct lawn *lawn;        /* owned */
	struct lawns lawns;       /* of those */
};

/* "31.2 g", "2 fl oz". */
char *stock_print_amount(char *buffer, size_t size, double amount, bool is_mass,
    enum unit_system units);

/* "2028-12-31". CIVIL_BUFFER bytes are enough. */
char *stock_print_day(char *buffer, size_t size, int64_t day);

/* What is good today of a product, opened or not: g or L; NaN. */
double stock_on_hand(const struct stock *stock, const struct shelf_row *row);

/* The lawn that takes most of the product at once, among those that suit it;
   NULL when the card has no rate or nothing suits. */
const struct lawn *stock_largest_lawn(
    const struct stock *stock, const struct product *product);

/* At most `most` substitutes for a package, when there is far too much of it;
 *ret_use is what the lawns can use of it. */
bool stock_is_surplus(
    const struct stock *stock, const struct shelf_item *item, double *ret_use);
size_t stock_substitutes(const struct stock *stock,
    const struct shelf_item *item, struct substitute *ret, size_t most);

/* A list of sentences about the packages of a product. */
cJSON *stock_warnings(const struct stock *stock, const struct shelf_row *row);

enum { SUBSTITUTES_MOST = 8 };

#endif
