// How far the papers are, as the server tells it; when they are made, or not, the page is shown anew.
const section = document.querySelector("[data-job]");
if (section) {
  const bar = section.querySelector("progress"), say = (what, text) => { section.querySelector(`[data-${what}]`).textContent = text; };
  const events = new EventSource(`/api/v1/jobs/${section.dataset.job}/events`);
  events.addEventListener("job", ({ data }) => {
    const job = JSON.parse(data);
    if (job.state !== "running") { events.close(); location.reload(); return; }
    say("stage", job.stage);
    say("done", job.total ? `${job.done} of ${job.total}` : "");
    bar.max = job.total || 1;
    bar.value = job.done;
  });
  events.onerror = () => setTimeout(() => location.reload(), 2000);
}
