// Brings the elements of a drawing up to date, from first to last. What is to be done comes as one text,
// because each text that goes from the compiled app to the page takes longer than most of what it asks for.
//
// A step is a line; its words are set apart by the sign that ASCII has for it:
//   keep COUNT                  leaves so many elements as they are
//   alter [NAME VALUE]... [TEXT]  gives the next element values and a text
//   make NAME [NAME VALUE]... [TEXT]  puts a new element before the next
//   read MARKUP                 does so with one that holds more than plain text
//   remove                      takes the next element away
export function patch(svg, steps) {
  let here = svg.firstElementChild;
  for (const step of steps.split("\n")) {
    const [act, ...words] = step.split("\u001f");
    if (act === "keep") {
      for (let left = Number(words[0]); left; left--) here = here.nextElementSibling;
    } else if (act === "alter") {
      give(here, words);
      here = here.nextElementSibling;
    } else if (act === "make") {
      const made = document.createElementNS("http://www.w3.org/2000/svg", words.shift());
      give(made, words);
      svg.insertBefore(made, here);
    } else if (act === "read") {
      const markup = words.join("\u001f");
      if (here) here.insertAdjacentHTML("beforebegin", markup);
      else svg.insertAdjacentHTML("beforeend", markup);
    } else if (act === "remove") {
      const gone = here;
      here = here.nextElementSibling;
      gone.remove();
    }
  }
}

function give(element, words) {
  for (let at = 0; at + 1 < words.length; at += 2) element.setAttribute(words[at], words[at + 1]);
  if (words.length % 2) element.textContent = words.at(-1);
}
