/* A shelf of cards and the weeds that somebody wants gone. */
#ifndef TESTS_UNIT_CHOOSE_FIXTURE_H
#define TESTS_UNIT_CHOOSE_FIXTURE_H

#include "unit/test.h"

#include "unit/conflicts_fixture.h"

#include "base/text.h"
#include "turf/choose.h"

/* Parts of a card. */
#define TEXTS(...)      ((const char *[]){ __VA_ARGS__ })
#define TEXT_COUNT(...) (sizeof TEXTS(__VA_ARGS__) / sizeof(const char *))
#define CONTROLS(...)                                                          \
	.control = TEXTS(__VA_ARGS__), .control_count = TEXT_COUNT(__VA_ARGS__)
#define GROUP(...)                                                             \
	.group = TEXTS(__VA_ARGS__), .group_count = TEXT_COUNT(__VA_ARGS__)

enum { SHELF_MOST = 40 };

struct shed {
	struct scene scene;
	struct product card[SHELF_MOST];
	struct choose_item item[SHELF_MOST];
	size_t count;
	struct choice *choice;
	struct error error;
};

static inline void
begin_shed(struct shed *shed)
{
	*shed = (struct shed){ .count = 0 };
	begin_scene(&shed->scene);
}

static inline void
put_on_shelf(
    struct shed *shed, const struct product *card, double on_hand, double cost)
{
	assert_true(shed->count < SHELF_MOST);
	shed->card[shed->count] = *card;
	shed->item[shed->count] =
	    (struct choose_item){ &shed->card[shed->count], on_hand, cost };
	shed->count++;
}

/* Enough of it, for one unit of money. */
#define STOCK(shed, ...)                                                       \
	put_on_shelf(                                                          \
	    (shed), &(struct product){ RATE(0.0001), __VA_ARGS__ }, 1000, 1)

static inline bool
choose(struct shed *shed, const char *const *weeds, size_t count)
{
	shed->scene.facts.products = shed->card;
	shed->scene.facts.product_count = shed->count;
	const struct choose_wish wish = { shed->item, shed->count, weeds, count,
		&shed->scene.job, &shed->scene.facts };
	choice_free(shed->choice);
	shed->choice = NULL;
	return choose_tanks(&wish, &shed->choice, &shed->error);
}

#define CHOOSE(shed, ...)                                                      \
	choose((shed), TEXTS(__VA_ARGS__), TEXT_COUNT(__VA_ARGS__))

static inline void
end_shed(struct shed *shed)
{
	choice_free(shed->choice);
}

/* "a-1,a-2!b-1!": all names of one length are in the order of the choice. */
static inline void
tell_proposal(char *buffer, size_t size, const struct proposal *proposal)
{
	size_t used = 0;
	buffer[0] = '\0';
	for (size_t t = 0; t < proposal->tank_count; t++) {
		const struct tank_mix *mix = &proposal->tank[t].mix;
		for (size_t i = 0; i < mix->count && used < size; i++)
			used += (size_t)snprintf(buffer + used, size - used,
			    "%s%s", mix->dose[i].product->name,
			    i + 1 < mix->count ? "," : "!");
	}
}

/* These proposals in this order, and no more. */
static inline void
check_proposals(const struct shed *shed, const char *const *says, size_t count)
{
	char told[256];
	for (size_t i = 0; i < count && i < shed->choice->count; i++) {
		tell_proposal(told, sizeof told, &shed->choice->proposal[i]);
		assert_string_equal(told, says[i]);
	}
	assert_int_equal(shed->choice->count, count);
	assert_int_equal(shed->choice->found, count);
}

#define PROPOSES(shed, ...)                                                    \
	check_proposals((shed), TEXTS(__VA_ARGS__), TEXT_COUNT(__VA_ARGS__))

#endif
