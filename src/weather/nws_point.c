#include "weather/format.h"

#include "base/limits.h"
#include "base/memory.h"
#include "weather/strict_json.h"

#include <string.h>

static const char link_name[] = "forecastGridData";

static bool
is_sound(const char *address)
{
	size_t length = strlen(address);
	for (size_t i = 0; i < length; i++)
		if ((unsigned char)address[i] < ' ' || address[i] == 0x7F)
			return false;
	return length > 0 && length <= LIMIT_TEXT_BYTES;
}

/* *ret is the borrowed address, or left alone when the document has none. */
static bool
find_address(const cJSON *root, const char **ret, struct error *error)
{
	const cJSON *properties = json_member(root, "properties");
	const cJSON *item = json_member(properties, link_name);
	if (item == NULL || cJSON_IsNull(item))
		return true;
	if (!json_members_unique(root) || !json_members_unique(properties))
		return error_set(
		    error, ERROR_INPUT, "the document has a member twice");
	const char *address = json_string(item);
	if (address == NULL || !is_sound(address))
		return error_set(error, ERROR_INPUT,
		    "%s is not an address of 1 to %d bytes without control "
		    "characters",
		    link_name, (int)LIMIT_TEXT_BYTES);
	*ret = address;
	return true;
}

bool
nws_point_link(
    const char *bytes, size_t length, char **ret, struct error *error)
{
	const char *address = NULL;
	/* A forecast is large and does not hold the name: it is not parsed
	   here only to be parsed again by its reader. */
	if (memmem(bytes, length, link_name, strlen(link_name)) == NULL) {
		*ret = NULL;
		return true;
	}
	cJSON *root = json_parse(bytes, length, error);
	if (root == NULL)
		return false;
	bool good = find_address(root, &address, error);
	if (good)
		*ret = memory_string(address);
	json_release(root);
	return good;
}
