// Lets the page be kept on the device where the browser allows it: over https, or on the computer itself.

if (window.isSecureContext && "serviceWorker" in navigator) {
  navigator.serviceWorker.register("/service-worker.js", { scope: "/" }).catch((error) => {
    console.warn(`kept pages: ${error.message}`);
  });
}
