// Which site packs are kept on this device.

const place = document.getElementById("kept");

for (const name of await caches.keys()) {
  const kept = await caches.open(name);
  for (const request of await kept.keys()) {
    const { pathname } = new URL(request.url);
    if (!/^\/jobs\/\d+\/pack$/.test(pathname)) continue;
    const title = /<title>[^<]*<\/title>/.exec(await (await kept.match(request)).text())?.[0] ?? "";
    const page = new DOMParser().parseFromString(title, "text/html");
    const link = document.createElement("a");
    link.href = pathname;
    link.textContent = page.title;
    const item = document.createElement("li");
    item.append(link);
    place.append(item);
  }
}
