package soakbench.api;

import soakbench.api.health.ServiceStatus;
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
 * What the HTTP calls depend on.
 *
 * @param live the current verdicts
 * @param arrivals receives each posted line of a tracker, whether it can be stored or not
 * @param clock the live clock; dates uploads that carry no time
 * @param alarms all of them
 * @param status the service's status; until it is ready calls say so
 */
public record ApiDependencies(
    SoakWatch watch,
    LiveVerdicts live,
    ArrivalListener arrivals,
    Database database,
    EventClock clock,
    AlarmRegistry alarms,
    ServiceStatus status) {

  /** Ready, with alarms about trackers only and without their periodic check. */
  static ApiDependencies of(SoakWatch watch, Database database, EventClock clock) {
    DataClock dates = new DataClock(clock);
    AlarmRegistry alarms = new AlarmRegistry(dates);
    LiveVerdicts live = new LiveVerdicts(watch, new ArrivalWatch(watch::limits, clock), clock);
    live.follow(dates);
    live.subscribe(new TrackerAlarms(alarms, clock));
    return new ApiDependencies(
        watch, live, live.arrivals(), database, clock, alarms, ServiceStatus.ready());
  }
}
