// The line to the bench: what is asked goes as a form's fields, what is new comes as events.

/** Asks the bench to do something; answers what it says of it. */
export const ask = async (what, fields) => {
  const answer = await fetch(`act/${what}`, {
    method: "POST",
    headers: { Accept: "application/json" },
    body: new URLSearchParams(fields),
  });
  if (!answer.ok) throw new Error(answer.status === 413 ? "That is too large." : `The bench did not take it (${answer.status}).`);
  return answer.json();
};

/** Sends the newest of what it is given, one at a time: those between are never sent. */
export const newestOnly = (send) => {
  let waiting = null, busy = false;
  const go = async () => {
    busy = true;
    while (waiting) {
      const next = waiting;
      waiting = null;
      try { await send(next); } catch (error) { say(error.message); }
    }
    busy = false;
  };
  return (fields) => {
    waiting = fields;
    if (!busy) go();
  };
};

const write = (id, words) => {
  const line = document.getElementById(id);
  if (line && line.textContent !== words) line.textContent = words;
};

/** Tells one sentence, to those who look and to those who listen. */
export const say = (words) => write("said", words);

/** Tells those who listen what those who look see in its own place. */
export const announce = (words) => write("heard", words);

/** Calls back with everything new, from the first on. */
export const listen = (heard) => {
  const events = new EventSource("events");
  events.addEventListener("news", (event) => heard(JSON.parse(event.data)));
  events.addEventListener("error", () => {
    if (events.readyState === EventSource.CLOSED) say("The bench no longer answers.");
    else say("The bench does not answer; trying again…");
  });
  return events;
};
