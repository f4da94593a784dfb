/*
 * The water that recorded applications want: their ledgers, out of a board and
 * the stored forecasts.
 */
#ifndef SERVICE_WATERING_H
#define SERVICE_WATERING_H

#include "advice/water.h"
#include "service/board.h"

/*
 * The ledger of one product of a record. Hours that have left the board's
 * series are read from the forecasts of then, as far as they are archived.
 */
bool watering_account(const struct keeper *keeper, const struct board *board,
    const struct stored_record *record, const struct product *product,
    struct water_ledger *ret, struct error *error);

#endif
