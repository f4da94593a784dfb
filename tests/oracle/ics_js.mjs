/*
 * A third reader: ical.js (2.2.1 was tried), strict, and the round trip.
 *
 *   node ics_js.mjs FILE.ics [--module FOLDER]
 *
 * FOLDER is the one that holds ical.js (a node_modules/ical.js); without it
 * NODE_PATH decides. Prints TAP; skips when there is no ical.js.
 */
import { readFileSync, existsSync } from 'node:fs';
import { join, delimiter, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

function findModule(words) {
	const option = words.indexOf('--module');
	const folders = option >= 0 && words[option + 1] ? [words[option + 1]] :
		(process.env.NODE_PATH ?? '').split(delimiter).filter(Boolean);
	for (const folder of folders)
		for (const inner of ['', 'ical.js', 'node_modules/ical.js']) {
			const file = join(resolve(folder), inner, 'dist', 'ical.js');
			if (existsSync(file))
				return pathToFileURL(file).href;
		}
	return null;
}

let count = 0;
let failed = 0;

function check(passed, name, detail = '') {
	count++;
	failed += passed ? 0 : 1;
	console.log(`${passed ? '' : 'not '}ok ${count} - ${name}`);
	if (!passed && detail !== '')
		console.log(`#   ${String(detail).replaceAll('\n', '\n#   ')}`);
}

/* What a value must be when it is read as it should be. */
function checkEvent(ICAL, component) {
	const event = new ICAL.Event(component);
	const uid = event.uid;
	check(event.endDate.compare(event.startDate) > 0, `${uid} ends after its start`,
		`${event.startDate} to ${event.endDate}`);
	check(event.startDate.isDate || event.startDate.zone === ICAL.Timezone.utcTimezone,
		`${uid} is in UTC or a date`, event.startDate);
	for (const alarm of component.getAllSubcomponents('valarm')) {
		const trigger = alarm.getFirstPropertyValue('trigger');
		check(trigger instanceof ICAL.Duration && trigger.toSeconds() <= 0,
			`${alarm.getFirstPropertyValue('uid')} is at the start or before`, trigger);
	}
}

function run(ICAL, text) {
	ICAL.design.strict = true;
	const calendar = new ICAL.Component(ICAL.parse(text));
	const again = new ICAL.Component(ICAL.parse(calendar.toString()));
	check(calendar.name === 'vcalendar', 'is one calendar', calendar.name);
	check(JSON.stringify(again) === JSON.stringify(calendar), 'means the same after a round trip');
	const events = calendar.getAllSubcomponents('vevent');
	const wanted = text.split('\r\nBEGIN:VEVENT\r\n').length - 1;
	check(events.length === wanted, `holds all ${wanted} entries`, events.length);
	for (const event of events)
		checkEvent(ICAL, event);
}

const path = process.argv[2];
const found = findModule(process.argv.slice(3));
if (found === null) {
	console.log('1..0 # SKIP no ical.js in NODE_PATH or --module');
} else {
	const { default: ICAL } = await import(found);
	try {
		run(ICAL, readFileSync(path, 'utf8'));
	} catch (error) {
		check(false, 'reads without an exception', error.stack);
	}
	console.log(`1..${count}`);
	process.exitCode = failed > 0 ? 1 : 0;
}
