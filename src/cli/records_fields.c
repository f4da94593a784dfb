/* Which fields a record should have, so that whoever asks finds them. */
#include "cli/records.h"

#include <math.h>
#include <stdio.h>

/*
 * US rules on pesticide records: 7 CFR 110.3(a), restricted-use products of
 * private applicators (read); 40 CFR 171.303(b)(7), commercial applicators
 * (read in a summary); Texas 4 TAC 7.33(b) (read); Maryland COMAR 15.05.01.12
 * (read); New Mexico 21.17.50.10 (read); Georgia 40-21-5 (read). Product, day
 * and time are in every record; the concentration (Maryland, New Mexico)
 * follows from rate and carrier; what was unusual and what became of the rest
 * (Georgia) are told when there is something to tell.
 */
static const struct {
	const char *name;
	bool is_text; /* else a number */
	size_t offset;
} fields[] = {
#define TEXT(name, member)                                                     \
	{                                                                      \
		name, true, offsetof(struct stored_record, member)             \
	}
#define NUMBER(name, member)                                                   \
	{                                                                      \
		name, false, offsetof(struct stored_record, member)            \
	}
	/* 7 CFR, 40 CFR */
	TEXT("applicator", who),
	/* 7 CFR, Texas */
	TEXT("certification", certification),
	/* 40 CFR, Texas */
	TEXT("client", client),
	/* 7 CFR, 40 CFR, Texas */
	TEXT("place", place),
	NUMBER("area", area),
	/* 7 CFR, Texas: the crop or site */
	TEXT("turf", turf),
	/* Texas, Georgia: the pest */
	TEXT("weeds", weeds),
	/* Texas: the method; Maryland, Georgia: the equipment */
	TEXT("sprayer", sprayer),
	/* Texas: the total volume */
	NUMBER("mix used", used),
	/* Texas, Maryland, New Mexico */
	NUMBER("wind", measured.wind),
	NUMBER("wind direction", measured.wind_direction),
	/* Texas, New Mexico */
	NUMBER("air temperature", measured.air_temperature),
#undef TEXT
#undef NUMBER
};

struct list {
	struct missing *missing;
	size_t count;
};

static void
add(struct list *list, const char *name, const char *product)
{
	if (list->count < MISSING_MOST)
		(void)snprintf(list->missing[list->count++].name,
		    MISSING_BUFFER, "%s%s%s", name,
		    product[0] != '\0' ? " of " : "", product);
}

/* What only helps a product is on no register. */
static bool
is_registered(const struct config *config, const char *name)
{
	const struct product *product = config_product(config, name);
	return product == NULL || product->kind == PRODUCT_HERBICIDE;
}

/* 7 CFR, 40 CFR, Texas: number and amount; Texas, Maryland, Georgia: rate. */
static void
add_of_product(struct list *list, const struct config *config,
    const struct stored_amount *amount)
{
	if (amount->registration[0] == '\0' &&
	    is_registered(config, amount->product))
		add(list, "registration number", amount->product);
	if (isnan(amount->amount))
		add(list, "amount", amount->product);
	if (isnan(amount->rate))
		add(list, "rate", amount->product);
}

static bool
is_told(const struct stored_record *record, size_t field)
{
	const void *member = (const char *)record + fields[field].offset;
	if (!fields[field].is_text)
		return !isnan(*(const double *)member);
	return (*(const char *const *)member)[0] != '\0';
}

size_t
record_missing(const struct config *config, const struct stored_record *record,
    struct missing ret[MISSING_MOST])
{
	struct list list = { ret, 0 };
	for (size_t i = 0; i < sizeof fields / sizeof fields[0]; i++)
		if (!is_told(record, i))
			add(&list, fields[i].name, "");
	for (size_t i = 0; i < record->amount_count; i++)
		add_of_product(&list, config, &record->amount[i]);
	return list.count;
}

void
record_add_missing(struct text *out, const struct config *config,
    const struct stored_record *record)
{
	struct missing missing[MISSING_MOST];
	size_t count = record_missing(config, record, missing);
	for (size_t i = 0; i < count; i++)
		text_format(out, "%s%s", i > 0 ? ", " : "", missing[i].name);
}
