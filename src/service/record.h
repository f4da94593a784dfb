/* What a record has to do with the configuration of today. */
#ifndef SERVICE_RECORD_H
#define SERVICE_RECORD_H

#include "service/keeper.h"

/* The clock of its site; when that is gone, one that stands still at the offset
   which the record keeps. */
struct zone record_zone(
    const struct config *config, const struct stored_record *record);

/* Its products that have a card; no rates. */
struct tank_mix record_tank(
    const struct config *config, const struct stored_record *record);

/* Its products, as tank_print has them, with a card or without. */
char *record_print_name(
    char *buffer, size_t size, const struct stored_record *record);

/* The uid of its journal, which its entries in the calendar begin with.
   Returns buffer; RECORD_UID_BUFFER bytes are enough. */
char *record_print_uid(
    char *buffer, size_t size, const struct stored_record *record);

enum { RECORD_UID_BUFFER = 64 };

#endif
