package soakbench.api;

import soakbench.api.health.Standing;
import soakbench.live.DataClock;
import soakbench.live.EventClock;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.alarm.TrackerAlarms;
import soakbench.live.arrival.ArrivalListener;
import soakbench.live.arrival.ArrivalWatch;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.watch.SoakWatch;
import soakbench.store.Database;

/**
 * What the calls ask and tell.
 *
 * @param live the verdicts that are shown
 * @param arrivals hears each posted line of a tracker, whether it can be stored or not
 * @param clock what time it is in samples; dates uploads that carry none
 * @param alarms all that there are
 * @param standing how far the service is; until it is at work calls say so
 */
public record ApiParts(
    SoakWatch watch,
    LiveVerdicts live,
    ArrivalListener arrivals,
    Database database,
    EventClock clock,
    AlarmRegistry alarms,
    Standing standing) {

  /** At work, with alarms about trackers only and nobody who lets their time pass. */
  static ApiParts of(SoakWatch watch, Database database, EventClock clock) {
    DataClock dates = new DataClock(clock);
    AlarmRegistry alarms = new AlarmRegistry(dates);
    LiveVerdicts live = new LiveVerdicts(watch, new ArrivalWatch(watch::limits, clock), clock);
    live.subscribe(dates);
    live.subscribe(new TrackerAlarms(alarms, clock));
    return new ApiParts(watch, live, live.arrivals(), database, clock, alarms, Standing.ready());
  }
}
