#include "turf/mix_order.h"

#include <string.h>
#include <strings.h>

static const struct {
	const char *code;
	enum mix_step step;
} codes[] = {
	{ "WSP", MIX_PACKET },
	{ "WSB", MIX_PACKET },
	{ "SG", MIX_DRY },
	{ "WG", MIX_DRY },
	{ "WDG", MIX_DRY },
	{ "DF", MIX_DRY },
	{ "DG", MIX_DRY },
	{ "WP", MIX_DRY },
	{ "SP", MIX_DRY },
	{ "AMS", MIX_CONDITIONER },
	{ "CS", MIX_DISPERSED },
	{ "EW", MIX_DISPERSED },
	{ "F", MIX_DISPERSED },
	{ "FL", MIX_DISPERSED },
	{ "SC", MIX_DISPERSED },
	{ "SE", MIX_DISPERSED },
	{ "EC", MIX_SOLUTION },
	{ "OD", MIX_SOLUTION },
	{ "S", MIX_SOLUTION },
	{ "SL", MIX_SOLUTION },
	{ "COC", MIX_ADJUVANT },
	{ "MSO", MIX_ADJUVANT },
	{ "NIS", MIX_ADJUVANT },
};

enum mix_step
mix_step_of_code(const char *code)
{
	for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++)
		if (strcasecmp(codes[i].code, code) == 0)
			return codes[i].step;
	return MIX_UNSAID;
}

static const char *
code_of(const struct product *product)
{
	return product->formulation != NULL ? product->formulation : "";
}

enum mix_step
mix_step_of(const struct product *product)
{
	if (product->mix_step != MIX_UNSAID)
		return product->mix_step;
	enum mix_step step = mix_step_of_code(code_of(product));
	bool is_liquid = step == MIX_DISPERSED || step == MIX_SOLUTION;
	if (product->kind == PRODUCT_ADJUVANT &&
	    (step == MIX_UNSAID || is_liquid))
		return MIX_ADJUVANT;
	return step;
}

const char *
mix_step_word(enum mix_step step)
{
	static const char *const word[MIX_STEPS] = { "", "first", "packet",
		"dry", "conditioner", "dispersed", "drift-retardant",
		"solution", "adjuvant", "dye", "fertilizer", "defoamer",
		"last" };
	return word[step];
}

bool
mix_is_granule(const struct product *product)
{
	return strcasecmp(code_of(product), "G") == 0 ||
	       strcasecmp(code_of(product), "GR") == 0;
}

static int
rank(const struct product *product)
{
	enum mix_step step = mix_step_of(product);
	return step == MIX_UNSAID ? 2 * (int)MIX_DEFOAMER - 1 : 2 * (int)step;
}

static bool
is_before(const struct product *a, const struct product *b)
{
	if (rank(a) != rank(b))
		return rank(a) < rank(b);
	return strcmp(a->name, b->name) < 0;
}

void
mix_order(const struct tank_mix *tank, size_t ret[LIMIT_TANK_PRODUCTS])
{
	for (size_t i = 0; i < tank->count; i++) {
		size_t at = i;
		for (; at > 0 && is_before(tank->dose[i].product,
				     tank->dose[ret[at - 1]].product);
		     at--)
			ret[at] = ret[at - 1];
		ret[at] = i;
	}
}
