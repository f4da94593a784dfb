/*
 * Rise and set for sun.py. Arguments: latitude, longitude, height, the first
 * midnight in UTC seconds, and a number of days. One line a day: rise and set
 * in UTC seconds, "nan" when there is none.
 */
#include "physics/sun.h"

#include <stdio.h>
#include <stdlib.h>

int
main(int argc, char **argv)
{
	if (argc != 6) {
		fprintf(stderr, "usage: print_sun LAT LON HEIGHT FROM DAYS\n");
		return 2;
	}
	double latitude = strtod(argv[1], NULL);
	double longitude = strtod(argv[2], NULL);
	double height = strtod(argv[3], NULL);
	double from = strtod(argv[4], NULL);
	long days = strtol(argv[5], NULL, 10);
	for (long day = 0; day < days; day++) {
		double start = from + (double)day * 86400.0;
		printf("%.2f %.2f\n",
		    sun_rise(latitude, longitude, start, height),
		    sun_set(latitude, longitude, start, height));
	}
	return 0;
}
