import { mount } from 'svelte';
import './app.css';
import App from './App.svelte';
import { settings } from './state/settings.svelte';
import { readWords } from './words/catalogue';

const target = document.getElementById('app');
if (target) {
  await readWords(settings.language);
  mount(App, { target });
}
