// Moments are kept in UTC; whoever looks reads them by the clock on their own wall.

const two = (figure) => String(figure).padStart(2, "0");

for (const one of document.querySelectorAll("time[datetime]")) {
  const at = new Date(one.dateTime);
  if (Number.isNaN(at.valueOf())) continue;
  const day = [at.getFullYear(), two(at.getMonth() + 1), two(at.getDate())].join("-");
  one.textContent = `${day} ${two(at.getHours())}:${two(at.getMinutes())}`;
}
